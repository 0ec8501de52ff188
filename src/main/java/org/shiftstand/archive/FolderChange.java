package org.shiftstand.archive;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.Optional;

/** Single files of a bag that is a folder; no folder on the way may be a link. */
final class FolderChange {
    private final Path folder;

    FolderChange(Path folder) {
        this.folder = folder;
    }

    /** @return empty where there is no such regular file */
    Optional<InputStream> open(String file) throws IOException {
        Path place = folder;
        for (String step : file.split("/")) {
            if (!Files.isDirectory(place, links(place))) {
                return Optional.empty();
            }
            place = place.resolve(step);
        }
        return Files.isRegularFile(place, LinkOption.NOFOLLOW_LINKS)
                ? Optional.of(Files.newInputStream(place, LinkOption.NOFOLLOW_LINKS))
                : Optional.empty();
    }

    /** The bag itself may be named by a link, nothing within it. */
    private LinkOption[] links(Path place) {
        return place.equals(folder) ? new LinkOption[0] : new LinkOption[] {LinkOption.NOFOLLOW_LINKS};
    }

    /** Writes beside the bag, where no reader takes half a file for a part of it, and moves it in. */
    void add(String file, byte[] content) {
        Path place = folder.toAbsolutePath().resolve(file);
        Path within = folder.resolve(file.substring(0, file.indexOf('/')));
        if (Files.exists(within, LinkOption.NOFOLLOW_LINKS) && !Files.isDirectory(within, LinkOption.NOFOLLOW_LINKS)) {
            throw Trouble.bad(within, "is a link or file; a folder is expected. Nothing was written");
        }
        Whole.makeWithin(folder, place, partial -> {
            try (var out = new Durable(partial)) {
                out.write(content);
            }
            Files.createDirectories(within);
        });
    }

    void remove(String file) {
        Path place = folder.resolve(file);
        try {
            Files.delete(place);
        } catch (IOException e) {
            throw Trouble.bad(place, "cannot be removed (" + Trouble.words(e) + "); remove it by hand");
        }
    }
}
