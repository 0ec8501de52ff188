package org.shiftstand.cli;

import java.util.ArrayList;
import java.util.List;

/**
 * Runs several commands one after the other in one Java machine, so that what they load can be kept for quick starts
 * ({@code classdata.sh}). Not a command: nobody types it.
 */
public final class Rehearsal {
    private Rehearsal() {}

    /**
     * @param args the commands, a word {@code --} between each and the next; what they end with does not matter
     */
    public static void main(String[] args) {
        ParentWatch.startWhereAskedFor();
        for (String[] command : parted(args)) {
            Main.run(command);
        }
        System.exit(ExitCode.DONE);
    }

    private static List<String[]> parted(String... args) {
        List<String[]> commands = new ArrayList<>();
        List<String> words = new ArrayList<>();
        for (String word : args) {
            if (word.equals("--")) {
                commands.add(words.toArray(String[]::new));
                words.clear();
            } else {
                words.add(word);
            }
        }
        commands.add(words.toArray(String[]::new));
        return commands;
    }
}
