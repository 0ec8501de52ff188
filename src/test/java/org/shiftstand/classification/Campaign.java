package org.shiftstand.classification;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.shiftstand.sim.FaultKind;

/**
 * The whole classification: writes its page. Arguments: folder for what is kept between parts, page, kinds; without kinds
 * the page alone is written from what is kept.
 *
 * <p>Properties: {@code classify.units} faulty units of each kind, {@code classify.good} good ones, {@code classify.seed}
 * added to every seed, {@code classify.workers} units at once.
 */
final class Campaign {
    private static final int UNITS = Integer.getInteger("classify.units", 30);
    private static final int GOOD = Integer.getInteger("classify.good", 400);
    private static final long BASE = Long.getLong("classify.seed", 0);
    private static final int WORKERS = Integer.getInteger("classify.workers", 2);

    private final Path folder;
    private final Path page;

    private Campaign(Path folder, Path page) {
        this.folder = folder;
        this.page = page;
    }

    public static void main(String[] args) throws Exception {
        Path folder = Files.createDirectories(Path.of(args[0]));
        Campaign campaign = new Campaign(folder, Path.of(args[1]));
        System.exit(campaign.run(List.of(args).subList(2, args.length)) ? 0 : 1);
    }

    private boolean run(List<String> names) throws Exception {
        long began = System.nanoTime();
        ExecutorService threads = Executors.newFixedThreadPool(WORKERS);
        List<Future<Fleet>> running = new ArrayList<>();
        try {
            for (String name : names) {
                running.add(threads.submit(checked(kind(name))));
            }
            for (Future<Fleet> future : running) {
                Fleet fleet = future.get();
                System.out.printf(
                        Locale.ROOT,
                        "%s: %d units drawn, %d escapes, %d false rejects%n",
                        fleet.name(),
                        fleet.units().size(),
                        fleet.escapes().size(),
                        fleet.falseRejects().size());
            }
        } catch (ExecutionException e) {
            throw e.getCause() instanceof Exception cause ? cause : e;
        } finally {
            threads.shutdownNow();
        }
        if (!names.isEmpty()) {
            spent((System.nanoTime() - began) / 1e9);
        }
        return write();
    }

    private Callable<Fleet> checked(Optional<FaultKind> kind) {
        return () -> {
            Path own = Files.createDirectories(folder.resolve("running-" + Fleet.name(kind)));
            Fleet fleet = Fleet.check(kind, BASE, kind.isEmpty() ? GOOD : UNITS, own);
            Rows.write(fleet, folder);
            Files.delete(own);
            return fleet;
        };
    }

    private static Optional<FaultKind> kind(String name) {
        return Fleet.kinds().stream()
                .filter(kind -> Fleet.name(kind).equals(name))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("no kind '" + name + "'; expected some of "
                        + Fleet.kinds().stream().map(Fleet::name).toList()));
    }

    /** Adds the minutes of this part to those of the parts before. */
    private void spent(double seconds) throws IOException {
        Path file = folder.resolve("seconds");
        double before =
                Files.exists(file) ? Double.parseDouble(Files.readString(file).strip()) : 0;
        Files.writeString(file, String.valueOf(before + seconds));
    }

    /** Whether there was no escape, and at most one good unit in a hundred failed. */
    private boolean write() throws IOException {
        List<Fleet> fleets = new ArrayList<>();
        for (Optional<FaultKind> kind : Fleet.kinds()) {
            Rows.read(kind, folder).ifPresent(fleets::add);
        }
        Path seconds = folder.resolve("seconds");
        double minutes = Files.exists(seconds)
                ? Double.parseDouble(Files.readString(seconds).strip()) / 60
                : 0;
        String made = String.format(
                Locale.ROOT,
                "%s, %d units in %.0f min, %d at once, Java %s, spec %s version %d, procedure %s version %d.%n"
                        + "Command: `CLASSIFY_UNITS=%d CLASSIFY_GOOD=%d CLASSIFY_SEED=%d src/bench/classify.sh`%n%n",
                LocalDate.now(ZoneOffset.UTC),
                fleets.stream().mapToInt(f -> f.units().size()).sum(),
                minutes,
                WORKERS,
                Runtime.version(),
                CheckedUnit.SPEC.name(),
                CheckedUnit.SPEC.version(),
                CheckedUnit.PROCEDURE.name(),
                CheckedUnit.PROCEDURE.version(),
                UNITS,
                GOOD,
                BASE);
        Files.writeString(
                page,
                Files.readString(page.resolveSibling("classification.head.md")) + "\n" + made + Page.of(fleets, BASE));
        int rejects = fleets.stream().mapToInt(f -> f.falseRejects().size()).sum();
        return fleets.stream().allMatch(f -> f.escapes().isEmpty()) && rejects <= GOOD / 100;
    }
}
