package org.shiftstand.shift;

import org.shiftstand.quantity.Unit;

/** Everything that is measured of one shift, by the definitions of the guide; the order is that of the CSV columns. */
public enum Measure {
    REQUEST("request", "request_s", Unit.S, false),
    MOTION_START("motion-start", "motion_start_s", Unit.S, false),
    START("start", "start_deg", Unit.DEG, false),
    PLATEAU("plateau", "plateau_deg", Unit.DEG, false),
    LANDING("landing", "landing_deg", Unit.DEG, true),
    OVERTRAVEL("overtravel", "overtravel_deg", Unit.DEG, true),
    RINGING("ringing", "ringing_deg", Unit.DEG, true),
    HOLD("hold", "hold_s", Unit.S, true),
    TRAVEL_TIME("travel-time", "travel_time_s", Unit.S, true),
    SETTLED("settled", "settled_s", Unit.S, false),
    SETTLE_TIME("settle-time", "settle_time_s", Unit.S, true),
    EXTREME("extreme", "extreme_deg", Unit.DEG, true),
    CLEARANCE("clearance", "clearance_deg", Unit.DEG, true),
    CREEP("creep", "creep_deg", Unit.DEG, true),
    WAKE_UP_ERROR("wake-up-error", "wake_up_error_deg", Unit.DEG, true),
    PEAK_CURRENT("peak-current", "peak_current_a", Unit.A, true),
    CHARGE("charge", "charge_as", Unit.AS, true),
    RETURN_RINGING("return-ringing", "return_ringing_deg", Unit.DEG, true),
    REST_HOLD("rest-hold", "rest_hold_s", Unit.S, true),
    ENERGY("energy", "energy_j", Unit.J, true),
    LANDING_ERROR("landing-error", "landing_error_deg", Unit.DEG, true);

    private final String key;
    private final String column;
    private final Unit unit;
    private final boolean judged;

    Measure(String key, String column, Unit unit, boolean judged) {
        this.key = key;
        this.column = column;
        this.unit = unit;
        this.judged = judged;
    }

    /** As specs write it, such as {@code landing-error}. */
    public String key() {
        return key;
    }

    /** As CSV headers write it, such as {@code landing_error_deg}. */
    public String column() {
        return column;
    }

    /** The base unit of its values. */
    public Unit unit() {
        return unit;
    }

    /** Whether a clause may use it. */
    public boolean judged() {
        return judged;
    }
}
