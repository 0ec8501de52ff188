package org.shiftstand.sim;

import org.jspecify.annotations.Nullable;
import org.shiftstand.link.FaultCode;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.MessageCodec;
import org.shiftstand.link.RigState;

/** What each state refuses, and with which code: {@code rig/WIRE.md}, section 6. Decides only; the rig does. */
final class CommandTable {
    /** Most samples a second. */
    static final int MOST_HZ = 4000;

    /** Most supply, millivolts. */
    static final int MOST_MV = 10_000;

    private final int sprockets;
    private final boolean direct;
    private final SimulatedUnit unit;
    private final Sampling sampling;
    private final RigGuards guards;

    /** @param direct whether the rig commands the motor itself */
    CommandTable(int sprockets, boolean direct, SimulatedUnit unit, Sampling sampling, RigGuards guards) {
        this.sprockets = sprockets;
        this.direct = direct;
        this.unit = unit;
        this.sampling = sampling;
        this.guards = guards;
    }

    /**
     * Why a command is refused now; null where it is not.
     *
     * @param cause of the state fault, where the rig is in it
     */
    @Nullable
    FaultCode refusal(HostMessage message, RigState state, @Nullable FaultCode cause) {
        if (message instanceof HostMessage.Limits m) {
            boolean currentTimed = m.currentMa() == 0 || m.currentMs() > 0;
            boolean averageTimed = m.averageMa() == 0 || m.averageMs() > 0;
            return currentTimed && averageTimed ? null : FaultCode.VALUE;
        }
        if (state == RigState.FAULT && cause != null) {
            return cause;
        }
        boolean on = state == RigState.ARMED || state == RigState.MOVING;
        if (message instanceof HostMessage.Configure m) {
            return on ? FaultCode.STATE : configure(m);
        }
        if (message instanceof HostMessage.Arm m) {
            return on ? FaultCode.STATE : arm(m);
        }
        if (!on) {
            return FaultCode.NOT_ARMED;
        }
        if (message instanceof HostMessage.SupplySet m) {
            return supply(m.supplyMv());
        }
        if (message instanceof HostMessage.Drive m) {
            return drive(m);
        }
        return message instanceof HostMessage.ShiftRequest m ? shift(m) : FaultCode.UNSUPPORTED; // button contacts
    }

    private static @Nullable FaultCode configure(HostMessage.Configure m) {
        boolean rate = m.sampleRateHz() >= 1 && m.sampleRateHz() <= MOST_HZ;
        boolean block = m.samplesPerBlock() >= 1 && m.samplesPerBlock() <= MessageCodec.MOST_SAMPLES;
        return rate && block ? null : FaultCode.VALUE;
    }

    private @Nullable FaultCode arm(HostMessage.Arm m) {
        if (!sampling.configured()) {
            return FaultCode.NOT_CONFIGURED;
        }
        return guards.set() ? supply(m.supplyMv()) : FaultCode.NO_LIMITS;
    }

    private @Nullable FaultCode supply(int milliVolts) {
        boolean can = milliVolts >= 1 && milliVolts <= MOST_MV && guards.allowsSupply(milliVolts);
        return can ? null : FaultCode.VALUE;
    }

    private @Nullable FaultCode drive(HostMessage.Drive m) {
        if (!direct) {
            return FaultCode.UNSUPPORTED;
        }
        if (m.direction() == 0) {
            return null;
        }
        if (unit.busy()) {
            return FaultCode.STATE;
        }
        boolean right = Math.abs(m.direction()) == 1 && m.currentMa() > 0 && m.speedDegS() > 0 && m.ms() > 0;
        return right ? null : FaultCode.VALUE;
    }

    private @Nullable FaultCode shift(HostMessage.ShiftRequest m) {
        if (unit.driven()) {
            return FaultCode.STATE;
        }
        boolean step = Math.abs(m.direction()) == 1 && m.toSprocket() == 0;
        boolean target = m.direction() == 0 && m.toSprocket() >= 1 && m.toSprocket() <= sprockets;
        return step || target ? null : FaultCode.VALUE;
    }
}
