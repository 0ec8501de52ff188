package org.shiftstand.fuzz;

import java.util.List;
import java.util.Locale;
import java.util.Random;

/**
 * One thing that goes wrong in a capture.
 *
 * @param kind what it is
 * @param from first row it touches
 * @param to first row after it that it does not touch
 */
record Damage(String kind, int from, int to) {
    /** Damages rows in place. */
    static Damage inflict(Bench bench, List<String[]> rows, Random random) {
        int sin = bench.column("hall_sin");
        int cos = bench.column("hall_cos");
        int channel = random.nextBoolean() ? sin : cos;
        int n = 1 + random.nextInt(List.of(2, 12, 60, 400, 2500).get(random.nextInt(5)));
        int from = 1 + random.nextInt(rows.size() - n - 2);
        int to = from + n;
        switch (random.nextInt(13)) {
            case 0 -> {
                rows.subList(from, to).clear();
                return new Damage("rows dropped", from, to);
            }
            case 1 -> {
                rows.add(from, rows.get(from).clone());
                return new Damage("row doubled", from, from + 1);
            }
            case 2 -> {
                each(rows, from, to, row -> row[channel] = "0");
                return new Damage("channel zero", from, to);
            }
            case 3 -> {
                each(rows, from, to, row -> row[sin] = row[cos] = "0");
                return new Damage("both channels zero", from, to);
            }
            case 4 -> {
                String[] a = rows.get(from);
                String[] b = rows.get(to);
                for (int i = 1; i < a.length; i++) {
                    String kept = a[i];
                    a[i] = b[i];
                    b[i] = kept;
                }
                return new Damage("samples swapped", from, to + 1);
            }
            case 5 -> {
                int at = 1 + random.nextInt(rows.get(from).length - 1);
                rows.get(from)[at] = wild(rows.get(from)[at], random);
                return new Damage("digit of " + bench.header().get(at), from, from + 1);
            }
            case 6 -> {
                int few = from + 1 + random.nextInt(5);
                int most = random.nextBoolean() ? 4096 : 10_000_000;
                each(rows, from, Math.min(few, to), row -> row[channel] = String.valueOf(random.nextInt(most)));
                return new Damage("wild values", from, Math.min(few, to));
            }
            case 7 -> {
                int step = random.nextInt(4000) - 2000;
                each(rows, from, to, row -> row[channel] = plus(row[channel], step));
                return new Damage("DC step", from, to);
            }
            case 8 -> {
                String kept = rows.get(from)[0];
                rows.get(from)[0] = rows.get(to)[0];
                rows.get(to)[0] = kept;
                return new Damage("time goes back", from, to + 1);
            }
            case 9 -> {
                int power = Math.max(bench.column("hall_power"), bench.column("window"));
                boolean counts = bench.column("window") >= 0;
                each(
                        rows,
                        from,
                        to,
                        row -> row[power] = counts ? plus(row[power], 1) : row[power].equals("0") ? "1" : "0");
                return new Damage("sensor power turned round", from, to);
            }
            case 10 -> {
                String[] first = rows.get(from);
                each(rows, from, to, row -> {
                    row[sin] = first[sin];
                    row[cos] = first[cos];
                });
                return new Damage("samples frozen", from, to);
            }
            case 11 -> {
                int first = rows.size() - n;
                rows.subList(first, rows.size()).clear();
                return new Damage("file cut", first, first + n);
            }
            default -> {
                double late = random.nextDouble() * 3;
                each(
                        rows,
                        from,
                        rows.size(),
                        row -> row[0] = String.format(Locale.ROOT, "%.6f", Double.parseDouble(row[0]) + late));
                return new Damage("clock jumps", from, from + 1);
            }
        }
    }

    private interface Change {
        void to(String[] row);
    }

    private static void each(List<String[]> rows, int from, int to, Change change) {
        rows.subList(from, to).forEach(change::to);
    }

    private static String plus(String number, int more) {
        return String.valueOf(Integer.parseInt(number) + more);
    }

    private static String wild(String number, Random random) {
        int at = random.nextInt(number.length());
        char c = number.charAt(at);
        char other = c == '.' || c == '-' ? c : (char) ('0' + random.nextInt(10));
        return number.substring(0, at) + other + number.substring(at + 1);
    }
}
