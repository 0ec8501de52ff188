package org.shiftstand.cli.manual;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import picocli.CommandLine;

/** All pages and completions of a tree of commands. */
public final class Manual {
    private Manual() {}

    /**
     * Texts by the file that each goes to: {@code man1/shiftstand-rig-list.1}, {@code bash/shiftstand},
     * {@code zsh/_shiftstand}, {@code fish/shiftstand.fish}.
     *
     * @param version such as {@code 0.1.0}
     * @param date of this version, ISO 8601
     */
    public static Map<String, String> of(CommandLine root, String version, String date) {
        List<Entry> entries = Entry.all(root);
        Entry top = entries.get(0);
        Map<String, String> files = new TreeMap<>();
        for (Entry entry : entries) {
            files.put("man1/" + entry.page() + ".1", ManPage.of(entry, top, version, date));
        }
        files.put("bash/" + top.word(), BashCompletion.of(entries));
        files.put("zsh/_" + top.word(), ZshCompletion.of(entries));
        files.put("fish/" + top.word() + ".fish", FishCompletion.of(entries));
        return files;
    }
}
