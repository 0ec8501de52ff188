package org.shiftstand.archive;

/**
 * One thing that is wrong with a bag.
 *
 * @param file path in the bag, made printable; {@code container} for the archive file around it
 * @param kind what sort of thing
 * @param text one sentence: what is wrong, what was expected
 */
public record Finding(String file, Kind kind, String text) {
    /** The file that a finding about the archive as such names. */
    public static final String CONTAINER = "container";

    /** Sorts of finding, so that a program can tell them apart. */
    public enum Kind {
        /** Other bytes than the manifests say, or than the writer puts around the files. */
        CHANGED,
        /** Listed and not there. */
        MISSING,
        /** There and not listed. */
        EXTRA,
        /** A name that leads out of the bag, or could on some system. */
        ESCAPE,
        /** A symbolic link, hard link, device, pipe or socket. */
        LINK,
        /** Expands to more than it may. */
        BOMB,
        /** Not as format 1 says. */
        FORM,
        /** Cannot be read on. */
        UNREADABLE,
        /** About a signature or a name. */
        SIGNATURE
    }

    /** What kind it is: {@code changed}. */
    public String word() {
        return kind.name().toLowerCase(java.util.Locale.ROOT).replace('_', ' ');
    }

    /** {@code file: text}. */
    @Override
    public String toString() {
        return file + ": " + text;
    }
}
