package org.shiftstand.faults;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;

/** A simulated rig on a pseudo-terminal, in a process of its own that outlives whatever happens to the host. */
final class Rig implements AutoCloseable {
    private static final Duration STARTS = Duration.ofSeconds(60);

    private final Child child;
    private final Path link;
    private final SupplyLog log;

    private Rig(Child child, Path link, SupplyLog log) {
        this.child = child;
        this.link = link;
        this.log = log;
    }

    /** Starts one, called by a name in a folder, and waits until its port is there. */
    static Rig start(Path folder, String name, String options, String... more) {
        Path link = folder.resolve(name);
        Path log = folder.resolve(name + ".supply");
        List<String> arguments = new ArrayList<>(List.of(
                "rig", "simulate", "--pty", options, "--link", link.toString(), "--supply-log", log.toString()));
        arguments.addAll(List.of(more));
        Child child = Child.startRig(folder, name, arguments.toArray(String[]::new));
        Rig rig = new Rig(child, link, new SupplyLog(log));
        if (!Wait.until(STARTS, () -> Files.isSymbolicLink(link) || !child.alive()) || !child.alive()) {
            rig.close();
            throw new AssertionError("the simulated rig did not start: " + child.said());
        }
        return rig;
    }

    /** For {@code --rig}. */
    String address() {
        return "serial:" + link;
    }

    SupplyLog log() {
        return log;
    }

    Child child() {
        return child;
    }

    @Override
    public void close() {
        child.close();
        try {
            Files.deleteIfExists(link);
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }
}
