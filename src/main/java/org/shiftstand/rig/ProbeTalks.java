package org.shiftstand.rig;

import java.util.Map;
import java.util.function.BooleanSupplier;
import org.jspecify.annotations.Nullable;
import org.shiftstand.bench.ProbeReport.Check;
import org.shiftstand.bench.ProbeReport.Finding;
import org.shiftstand.bench.ProbeReport.Result;
import org.shiftstand.bench.RigDescription.Guards;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.Link;
import org.shiftstand.link.RigMessage.Event;
import org.shiftstand.link.RigMessage.Identity;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.quantity.Unit;

/** The talks that a probe consists of: how fast, at which voltage, and what they have in common. */
final class ProbeTalks {
    /** At rest: as usual runs do. */
    static final int REST_HZ = 512;

    /** In motion: a cut is timed to a millisecond. */
    static final int MOTION_HZ = 1000;

    /** Short blocks: what happens is known 16 samples later. */
    static final int BLOCK = 16;

    // two voltages that a drive for two cells sees, nearly empty and full; common practice, no published source
    private static final double LOW_V = 7.4;
    private static final double HIGH_V = 8.2;

    private final Link link;
    private final ProbePlan plan;
    private final Identity rig;
    private final ProbeMonitor monitor;
    private final BooleanSupplier stop;
    private @Nullable RigSession last;

    ProbeTalks(Link link, ProbePlan plan, Identity rig, ProbeMonitor monitor, BooleanSupplier stop) {
        this.link = link;
        this.plan = plan;
        this.rig = rig;
        this.monitor = monitor;
        this.stop = stop;
    }

    ProbePlan plan() {
        return plan;
    }

    Identity rig() {
        return rig;
    }

    ProbeMonitor monitor() {
        return monitor;
    }

    BooleanSupplier stop() {
        return stop;
    }

    Link link() {
        return link;
    }

    RigSession atRest() {
        return open(Probe.limits(plan), REST_HZ);
    }

    RigSession inMotion() {
        return open(Probe.limits(plan), MOTION_HZ);
    }

    RigSession open(HostMessage.Limits limits, int rateHz) {
        RigSession talk = new RigSession(
                link,
                limits,
                Math.min(rateHz, rig.maxSampleRateHz()),
                BLOCK,
                plan.turnsPerCycle(),
                plan.currentScaleA(),
                stop);
        last = talk;
        return talk;
    }

    /** Whether the rig confirmed at the end of the last talk that the supply is off. */
    boolean cutConfirmed() {
        RigSession talk = last;
        return talk == null || talk.cutConfirmed();
    }

    /** The lower of the two voltages, millivolts. */
    int lowMv() {
        return bothFit() ? mv(LOW_V) : mv(least() + (most() - least()) / 4);
    }

    /** The higher of the two voltages, millivolts; the usual one of a probe. */
    int highMv() {
        return bothFit() ? mv(HIGH_V) : mv(least() + (most() - least()) * 3 / 4);
    }

    private boolean bothFit() {
        return least() <= LOW_V && HIGH_V <= most();
    }

    private double least() {
        return Math.max(0, plan.guards().supplyMinV());
    }

    private double most() {
        Guards guards = plan.guards();
        double ofRig = rig.maxSupplyMv() / 1e3;
        return guards.supplyMaxV() > 0 ? Math.min(ofRig, guards.supplyMaxV()) : ofRig;
    }

    private static int mv(double volts) {
        return (int) Math.round(volts * 1e3);
    }

    /** After this a shaft without activity rests: longer than a plateau, so that a hold is not taken for the end. */
    double quietS() {
        // as a run does where the profile says nothing; a run's own waiting has its reasons at Course.quietS
        return plan.holdS().isPresent() ? plan.holdS().getAsDouble() + 0.5 : 1.3;
    }

    /** An emergency stop that nobody was asked for. */
    static boolean pressed(RigSession talk) {
        return talk.event(Event.Kind.EMERGENCY_STOP, 0).isPresent();
    }

    static Finding finding(Check check, boolean pass, String text, Map<String, Quantity> values) {
        return new Finding(check, pass ? Result.PASS : Result.ATTENTION, text, values);
    }

    /** Rounded to so many decimals of its unit, for people. */
    static Quantity rounded(double value, Unit unit, int decimals) {
        double scale = Math.pow(10, decimals);
        return new Quantity(Math.rint(value * scale) / scale, unit);
    }
}
