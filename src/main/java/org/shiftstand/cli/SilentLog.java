package org.shiftstand.cli;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import org.slf4j.LoggerFactory;

/** Turns off what libraries log: a command's output is its own. */
final class SilentLog {
    private SilentLog() {}

    static void start() {
        if (LoggerFactory.getLogger(org.slf4j.Logger.ROOT_LOGGER_NAME) instanceof Logger root) {
            root.setLevel(Level.OFF);
        }
    }
}
