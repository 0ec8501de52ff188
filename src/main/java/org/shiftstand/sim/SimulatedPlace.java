package org.shiftstand.sim;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.shiftstand.link.Link;
import org.shiftstand.link.LinkException;
import org.shiftstand.link.Port;
import org.shiftstand.profile.Profile;

/**
 * The place where a simulated rig is plugged in, in simulated time: one rig and one unit that live on from link to link.
 *
 * <p>Time passes in a link's {@code receive}, and in {@link #pause} while none is open; it is one clock for the place, the
 * rig (until it boots again) and the unit, and starts at 2026-01-01T00:00:00Z. The line breaks and is whole again when the
 * options say so, whether a link is open or not. One thread.
 */
public final class SimulatedPlace implements Port {
    /** 2026-01-01T00:00:00Z, so that a seed gives the same record on any day. */
    static final long START_UTC_MICROS = 1_767_225_600_000_000L;

    private final SimulatedRig rig;
    private final Due unplugs;
    private final long replugAfterMicros;
    private final boolean reboots;
    private long replugMicros = Due.NEVER;
    private boolean plugged = true;
    private int breaks;
    private @Nullable SimulatedLink open;

    /**
     * A fresh rig with a fresh unit; nothing is open yet.
     *
     * @throws IllegalArgumentException where options speak of sprockets that the profile has not
     */
    public SimulatedPlace(Profile profile, SimOptions options) {
        rig = new SimulatedRig(profile, options);
        unplugs = options.line().due(Mishap.UNPLUG);
        replugAfterMicros = options.line().replugAfterS().isPresent()
                ? Math.round(options.line().replugAfterS().getAsDouble() * 1e6)
                : Due.NEVER;
        reboots = options.line().reboot();
    }

    @Override
    public String address() {
        return "sim";
    }

    @Override
    public Link open() {
        return link();
    }

    /** The same, as what it is. */
    SimulatedLink link() {
        if (open != null) {
            throw new LinkException("sim: the simulated line is open already; close it, then open it again.");
        }
        if (!plugged) {
            throw new LinkException("sim: no such port: the simulated line is unplugged"
                    + (replugMicros == Due.NEVER
                            ? " for good. Leave unplug-at out, or add replug-after."
                            : "; wait until it is plugged in again."));
        }
        SimulatedLink link = new SimulatedLink(this);
        open = link;
        return link;
    }

    @Override
    public void pause(long micros) {
        long until = nowMicros() + Math.max(0, micros);
        while (nowMicros() < until) {
            advance(until, frame -> {});
        }
    }

    /** Microseconds since the simulation began. */
    public long nowMicros() {
        return rig.nowMicros();
    }

    long utcMicros() {
        return START_UTC_MICROS + nowMicros();
    }

    /** How often the line broke so far. */
    int breaks() {
        return breaks;
    }

    /** Lets time pass until the rig says something or the line breaks or is whole again, at most so far. */
    void advance(long untilMicros, SimulatedRig.Sink to) {
        long change = plugged ? unplugMicros() : replugMicros;
        if (rig.advance(Math.min(untilMicros, change), to) >= change) {
            if (plugged) {
                unplug(change);
            } else {
                replug();
            }
        }
    }

    private long unplugMicros() {
        return unplugs.nanos() == Due.NEVER ? Due.NEVER : unplugs.nanos() / 1000;
    }

    private void unplug(long micros) {
        plugged = false;
        breaks++;
        rig.portLost();
        replugMicros = replugAfterMicros == Due.NEVER ? Due.NEVER : micros + replugAfterMicros;
        while (unplugMicros() <= Math.min(replugMicros, Due.NEVER - 1)) {
            unplugs.strikes(unplugs.nanos()); // of the same time without a line
        }
    }

    private void replug() {
        plugged = true;
        replugMicros = Due.NEVER;
        if (reboots) {
            rig.boot();
        }
    }

    void closed(SimulatedLink link) {
        if (open == null || open == link) {
            open = null;
            if (plugged) {
                rig.portLost();
            }
        }
    }

    /** Truth of every shift so far. */
    public SimTruth truth() {
        return rig.truth();
    }

    /** Every change of the supply since the simulation began. */
    public List<SupplyChange> supplyLog() {
        return rig.supplyLog();
    }

    /** The rig at this place. */
    public SimulatedRig rig() {
        return rig;
    }
}
