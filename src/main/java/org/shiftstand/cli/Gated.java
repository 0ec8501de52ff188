package org.shiftstand.cli;

import java.util.function.Consumer;
import org.shiftstand.link.RigMessage;
import org.shiftstand.rig.RunMonitor;

/** A monitor behind a gate: the rig that answers is looked at, and refused by throwing, before anything is armed. */
record Gated(RunMonitor to, Consumer<RigMessage.Identity> gate) implements RunMonitor {
    @Override
    public void connected(RigMessage.Identity identity) {
        gate.accept(identity);
        to.connected(identity);
    }

    @Override
    public void progress(Progress progress) {
        to.progress(progress);
    }

    @Override
    public void notice(String text) {
        to.notice(text);
    }

    @Override
    public void cutNotConfirmed(String text) {
        to.cutNotConfirmed(text);
    }
}
