package org.shiftstand.faults;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Supplier;
import java.util.stream.Stream;

/**
 * The whole campaign, or parts of it by name; {@code src/bench/faults.sh} starts it. Each part leaves its rows in {@code
 * FOLDER/PART.rows}; the table is made of all that are there. Ends with 1 where a fault was not survived.
 */
final class Campaign {
    private static final int AT_ONCE = Integer.getInteger("faults.at-once", 6);
    private static final long SEED = Long.getLong("faults.seed", 1);
    private static final double TIMES = Double.parseDouble(System.getProperty("faults.times", "1"));

    private Campaign() {}

    public static void main(String[] args) throws IOException {
        Path folder = Files.createDirectories(Path.of(args[0]));
        Path table = Path.of(args[1]);
        Map<String, Supplier<List<Tally>>> parts = parts(folder);
        List<String> names = List.of(args).subList(2, args.length); // none: only the table is written
        boolean survived = true;
        for (String name : names) {
            Supplier<List<Tally>> part = parts.get(name);
            if (part == null) {
                throw new IllegalArgumentException("no part '" + name + "'; expected some of " + parts.keySet());
            }
            List<Tally> rows = part.get();
            List<String> lines = new ArrayList<>();
            for (Tally row : rows) {
                lines.add(row.row());
                System.out.println(row.row());
                row.failures().forEach(failure -> lines.add(failure.replaceAll("\\s+", " ")));
                survived &= row.failures().isEmpty();
            }
            Files.write(folder.resolve(name + ".rows"), lines);
        }
        write(folder, table, parts.keySet().stream().toList());
        System.exit(survived ? 0 : 1);
    }

    private static Map<String, Supplier<List<Tally>>> parts(Path folder) {
        Map<String, Supplier<List<Tally>>> parts = new LinkedHashMap<>();
        parts.put(
                "kills-simulated",
                () -> List.of(tally("kill -9 in simulated time, gone on with", 120, 2, folder, Kill::simulated)));
        parts.put(
                "kills-real",
                () -> List.of(tally("kill -9 over a pseudo-terminal, gone on with", 80, AT_ONCE, folder, Kill::real)));
        parts.put(
                "supply",
                () -> Stream.of(SupplyOff.values())
                        .map(fault -> tally(fault.words, 20, AT_ONCE, folder, fault::run))
                        .toList());
        parts.put(
                "links",
                () -> List.of(
                        tally("line torn, whole again after seconds", 40, AT_ONCE, folder, TornLink::reconnected)));
        parts.put(
                "disk",
                () -> FullDisk.possible()
                        ? List.of(
                                tally("disk filled during a run", 20, AT_ONCE, folder, FullDisk::filled),
                                tally("disk too small for the run", 1, 1, folder, FullDisk::tooSmall))
                        : List.of());
        parts.put(
                "two-rigs",
                () -> List.of(
                        tally("two rigs, a check each, one fails", 20, 2, folder, TwoRigs::apart),
                        tally("two rigs, one check for both, one rig killed", 10, 2, folder, TwoRigs::together)));
        parts.put(
                "overnight",
                () -> List.of(tally(
                        "a night in simulated time",
                        1,
                        1,
                        folder,
                        (seed, at) -> Overnight.run(seed, at, "overnight", 7.5))));
        parts.put(
                "fast",
                () -> List.of(tally(
                        "4 kHz over a pseudo-terminal",
                        1,
                        1,
                        folder,
                        (seed, at) -> FastLine.run(seed, at, (int) Math.max(10, 600 * TIMES)))));
        return parts;
    }

    private static Tally tally(String fault, int trials, int atOnce, Path folder, Trial trial) {
        int n = (int) Math.max(1, Math.round(trials * TIMES));
        return Tally.of(fault, SEED, n, atOnce, folder, trial);
    }

    /** What every part that was run has left, and the mutated inputs. */
    private static void write(Path folder, Path table, List<String> parts) throws IOException {
        List<String> rows = new ArrayList<>();
        List<String> failures = new ArrayList<>();
        for (String part : parts) {
            Path file = folder.resolve(part + ".rows");
            if (Files.exists(file)) {
                for (String line : Files.readAllLines(file)) {
                    (line.startsWith("|") ? rows : failures).add(line);
                }
            }
        }
        Path fuzz = folder.resolve("inputs.tsv");
        if (Files.exists(fuzz)) {
            for (String line : Files.readAllLines(fuzz)) {
                String[] f = line.split("\t", -1);
                long first = Long.parseLong(f[1]);
                long n = Long.parseLong(f[2]);
                rows.add(String.format(
                        Locale.ROOT,
                        "| mutated: %s | %d | %d | – | – | %d to %d | %s |",
                        f[0],
                        n,
                        n - Long.parseLong(f[3]),
                        first,
                        first + n - 1,
                        f[4].replaceAll("[{}]", "").replace('=', ' ')));
                failures.addAll(List.of(f).subList(5, f.length));
            }
        }
        StringBuilder page = new StringBuilder(Files.readString(table.resolveSibling("faults.head.md")));
        page.append("| fault | tried | survived | samples lost | longest to supply off | seeds | remarks |\n")
                .append("|---|---:|---:|---|---:|---|---|\n");
        rows.forEach(row -> page.append(row).append('\n'));
        if (!failures.isEmpty()) {
            page.append("\n## Not survived\n\n");
            failures.forEach(failure -> page.append("- ")
                    .append(failure.length() > 400 ? failure.substring(0, 400) + " …" : failure)
                    .append('\n'));
        }
        Files.writeString(table, page, StandardOpenOption.CREATE, StandardOpenOption.TRUNCATE_EXISTING);
    }
}
