package org.shiftstand.archive;

/**
 * One thing that is wrong with a bag.
 *
 * @param file path in the bag, or the bag's own name where it is about the whole
 * @param text what is wrong, a sentence without its full stop
 */
public record Finding(String file, Kind kind, String text) {
    /** What sort of thing it is. */
    public enum Kind {
        /** Bytes are not those that were archived. */
        CHANGED,
        /** A file is gone. */
        MISSING,
        /** A file that the archive never had. */
        EXTRA,
        /** A name that leads out of the bag. */
        ESCAPE,
        /** A link, a device, or anything else that is no plain file. */
        LINK,
        /** More than the bag says it holds, such as a file that unpacks without end. */
        BOMB,
        /** Not the form of a bag that this program writes. */
        FORM,
        /** Digests of a kind that is not to be relied on. */
        DOWNGRADED,
        /** Cannot be read at all. */
        UNREADABLE;

        /** {@code changed}. */
        public String word() {
            return name().toLowerCase(java.util.Locale.ROOT);
        }
    }

    /** {@code data/record.run: changed: …}. */
    @Override
    public String toString() {
        return file + ": " + kind.word() + ": " + text;
    }
}
