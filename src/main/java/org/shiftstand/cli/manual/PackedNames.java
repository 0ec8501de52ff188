package org.shiftstand.cli.manual;

import java.util.Iterator;
import org.shiftstand.document.Bundled;

/** Names of packed files, for an argument that is a file or such a name. Reads nothing before it is asked. */
public abstract class PackedNames implements Iterable<String> {
    abstract Bundled.Kind kind();

    @Override
    public Iterator<String> iterator() {
        return Bundled.plainNames(kind()).iterator();
    }

    /** Acceptance specs. */
    public static final class Specs extends PackedNames {
        @Override
        Bundled.Kind kind() {
            return Bundled.Kind.SPEC;
        }
    }

    /** Profiles of kinds of units. */
    public static final class Profiles extends PackedNames {
        @Override
        Bundled.Kind kind() {
            return Bundled.Kind.PROFILE;
        }
    }

    /** Procedures. */
    public static final class Procedures extends PackedNames {
        @Override
        Bundled.Kind kind() {
            return Bundled.Kind.PROCEDURE;
        }
    }

    /** Rig descriptions. */
    public static final class Rigs extends PackedNames {
        @Override
        Bundled.Kind kind() {
            return Bundled.Kind.RIG;
        }
    }

    /** What people state of a run. */
    public static final class Particulars extends PackedNames {
        @Override
        Bundled.Kind kind() {
            return Bundled.Kind.PARTICULARS;
        }
    }

    /** Values of gauge studies. */
    public static final class Studies extends PackedNames {
        @Override
        Bundled.Kind kind() {
            return Bundled.Kind.STUDY;
        }
    }
}
