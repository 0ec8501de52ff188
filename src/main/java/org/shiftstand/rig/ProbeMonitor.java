package org.shiftstand.rig;

/** Is told how a probe goes; called on the probe's thread, so that it must be quick. */
public interface ProbeMonitor {
    /** Tells nobody. */
    ProbeMonitor SILENT = new ProbeMonitor() {};

    /** What is done now, for a progress line. */
    default void phase(String text) {}

    /** A person has to do something now. */
    default void ask(String text) {}
}
