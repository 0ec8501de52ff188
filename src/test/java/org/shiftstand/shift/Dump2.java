package org.shiftstand.shift;

import java.util.*;

class Dump2 {
    public static void main(String[] a) {
        Bench b = Bench.load("bench-" + a[0]);
        ShiftTable t = b.measured();
        double off = 0;
        int n = 0;
        for (int i = 0; i < t.shifts().size(); i++) {
            off += t.shifts().get(i).get(Measure.LANDING).number().orElse(0)
                    - b.shifts().get(i).get("landing_deg").asDouble();
        }
        off /= t.shifts().size();
        for (int i = 0; i < t.shifts().size(); i++) {
            Shift s = t.shifts().get(i);
            double e = s.get(Measure.START).number().orElse(0)
                    - off
                    - b.shifts().get(i).get("start_deg").asDouble();
            double r = s.get(Measure.RINGING).number().orElse(0)
                    - b.shifts().get(i).get("ringing_deg").asDouble();
            if (Math.abs(e) > 0.3 || Math.abs(r) > 1)
                System.out.println(s.number() + " " + s.from() + ">" + s.to() + " start err " + e + " ring err " + r
                        + " " + s.notes() + s.measures());
        }
    }
}
