package org.shiftstand.speed;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;

/** Prints the CSV that JMH writes as a table in Markdown. */
public final class JmhTable {
    private static final int FIRST_PARAMETER = 7;

    private JmhTable() {}

    /** {@code JMH.csv}. */
    public static void main(String[] args) throws IOException {
        PrintStream out = new PrintStream(System.out, true, StandardCharsets.UTF_8);
        List<String> lines = Files.readAllLines(Path.of(args[0]));
        out.println("| benchmark | a second | ± 99.9 % |");
        out.println("|---|---:|---:|");
        String[] header = lines.get(0).replace("\"", "").split(",", -1);
        for (String line : lines.subList(1, lines.size())) {
            // "Benchmark","Mode",Threads,Samples,Score,Score Error (99.9%),"Unit"[,Param …]; no field holds a comma
            String[] fields = line.replace("\"", "").split(",", -1);
            String name = fields[0].substring(fields[0].lastIndexOf('.', fields[0].lastIndexOf('.') - 1) + 1);
            StringBuilder parameters = new StringBuilder();
            for (int i = FIRST_PARAMETER; i < fields.length; i++) {
                if (!fields[i].isEmpty()) {
                    parameters
                            .append(' ')
                            .append(header[i].substring("Param: ".length()))
                            .append('=')
                            .append(fields[i]);
                }
            }
            out.println("| " + name + parameters + " | " + number(fields[4]) + " | " + number(fields[5]) + " |");
        }
    }

    private static String number(String text) {
        double value = Double.parseDouble(text);
        return value >= 1e6
                ? String.format(Locale.ROOT, "%.1f million", value / 1e6)
                : String.format(Locale.ROOT, "%,.0f", value);
    }
}
