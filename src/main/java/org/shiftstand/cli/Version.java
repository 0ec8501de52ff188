package org.shiftstand.cli;

import picocli.CommandLine.IVersionProvider;

/** The version of this program, as the build wrote it into the jar's manifest. */
final class Version implements IVersionProvider {
    /** Such as {@code 0.1.0}; {@code unpackaged} when run from classes. */
    static String number() {
        String version = Version.class.getPackage().getImplementationVersion();
        return version == null ? "unpackaged" : version;
    }

    @Override
    public String[] getVersion() {
        return new String[] {"shiftstand " + number()};
    }
}
