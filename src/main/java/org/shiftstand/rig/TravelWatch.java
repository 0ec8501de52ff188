package org.shiftstand.rig;

import java.util.Locale;

/**
 * Follows a shaft that a rig drives, sample by sample, and ends everything at once where it goes too far, the wrong way, or
 * draws too much current. From raw counts about the converter's middle: some degrees of error do not matter here.
 */
final class TravelWatch implements RigSession.Watch {
    // a command may take so long to be passed on, with a repetition; less than the margin at the speed of an approach
    private static final long MOST_BLIND = 500_000;

    // more than the error of uncorrected counts and backlash, far less than any travel
    private static final double SURE_DEG = 45;

    private final int middle;
    private final double turnsPerCycle;
    private final double leastDeg;
    private final double mostDeg;
    private final double mostA;
    private final AboveFor current;
    private boolean known;
    private double lastDeg;
    private double turnedDeg; // in the Hall pair's own sense, from the first sample on
    private int sense; // of the Hall pair: 1 where it turns positive inboard, 0 while not known
    private int direction; // of the drive under way
    private double setOutDeg;
    private long blindFrom = -1; // since when the sensors are off though it drives
    private boolean ended;

    /**
     * @param hallCounts the converter's full range
     * @param turnsPerCycle turns of the shaft in one electrical turn of the Hall pair
     * @param leastDeg farthest outboard, degrees from where the shaft stands at first; below 0
     * @param mostDeg farthest inboard; above 0
     * @param mostA a current above this for {@code forS} ends it
     */
    TravelWatch(int hallCounts, double turnsPerCycle, double leastDeg, double mostDeg, double mostA, double forS) {
        this.middle = hallCounts / 2;
        this.turnsPerCycle = turnsPerCycle;
        this.leastDeg = leastDeg;
        this.mostDeg = mostDeg;
        this.mostA = mostA;
        this.current = new AboveFor(mostA, forS);
    }

    /** A drive sets out, 1 inboard, −1 outboard; 0: it is over. */
    void setsOut(int towards) {
        direction = towards;
        setOutDeg = turnedDeg;
    }

    /** Degrees from where the shaft stood at first, positive inboard; 0 while the sense is not known. */
    double deg() {
        return sense * turnedDeg;
    }

    @Override
    public void sample(long atMicros, boolean sensing, short hallSin, short hallCos, double currentA) {
        if (current.sample(atMicros, currentA)) {
            end(String.format(Locale.ROOT, "the current passed %s A, though the rig was to limit it", number(mostA)));
        }
        if (!sensing) {
            blind(atMicros);
            return;
        }
        blindFrom = -1;
        double deg = Math.toDegrees(Math.atan2(hallSin - middle, hallCos - middle));
        if (known) {
            turnedDeg += turnsPerCycle * Math.IEEEremainder(deg - lastDeg, 360);
        }
        lastDeg = deg;
        known = true;
        look();
    }

    /** A shaft that is driven while its sensors are off, or are thought to be since that word was lost, has no bound. */
    private void blind(long atMicros) {
        if (direction == 0) {
            blindFrom = -1;
        } else if (blindFrom < 0) {
            blindFrom = atMicros;
        } else if (atMicros - blindFrom > MOST_BLIND) {
            end("the shaft is driven, and the rig has not said that the Hall sensors are on: how far it goes cannot be"
                    + " seen. Try again; where it happens again, look at the rig's Hall-on events");
        }
    }

    private void look() {
        double since = turnedDeg - setOutDeg;
        if (direction == 0 || Math.abs(since) < SURE_DEG) {
            return;
        }
        if (sense == 0) {
            sense = since * direction > 0 ? 1 : -1;
        } else if (sense * since * direction < 0) {
            end("the shaft turns against the way it is driven; are the motor's leads and the Hall pair in order?");
        }
        if (deg() < leastDeg || deg() > mostDeg) {
            end(String.format(
                    Locale.ROOT,
                    "the shaft went %.0f deg %s of where it stood without meeting a stop; the profile and its margin allow"
                            + " %.0f deg. Does the unit stand on the sprocket that was named, and is this its profile?",
                    Math.abs(deg()),
                    deg() < 0 ? "outboard" : "inboard",
                    deg() < 0 ? -leastDeg : mostDeg));
        }
    }

    private void end(String why) {
        if (!ended) {
            ended = true; // while the supply is being cut nothing ends it again
            throw new RunEnded(new RunEnd.RigFault(why));
        }
    }

    private static String number(double value) {
        return Watches.number(value);
    }
}
