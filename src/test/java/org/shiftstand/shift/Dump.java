package org.shiftstand.shift;

import java.util.*;

class Dump {
    public static void main(String[] a) {
        for (String n : a[0].split("")) {
            Bench b = Bench.load("bench-" + n);
            for (int pass = 0; pass < 2; pass++) {
                ShiftTable t = pass == 0
                        ? b.measured()
                        : ShiftFinder.find(b.track(), Optional.of(b.profile()), ShiftOptions.defaults());
                System.out.println(n + " shifts " + t.shifts().size() + " of "
                        + b.shifts().size() + " N=" + t.sprockets() + " " + t.sense() + "/" + t.senseFrom() + " "
                        + t.numbering() + " " + t.notices() + " " + t.alignmentDeg());
                Map<String, Integer> nm = new TreeMap<>();
                for (Shift s : t.shifts()) {
                    for (Measure m : Measure.values())
                        if (s.get(m) instanceof Measured.NotMeasured r)
                            nm.merge(m.key() + ": " + r.reason(), 1, Integer::sum);
                    nm.merge("outcome " + s.outcome() + " " + s.evidence(), 1, Integer::sum);
                    for (String no : s.notes()) nm.merge("note " + no, 1, Integer::sum);
                }
                System.out.println("   " + nm);
                if (t.shifts().size() != b.shifts().size()) {
                    for (int i = 0;
                            i
                                    < Math.min(
                                            a.length > 1 ? Integer.parseInt(a[1]) : 6,
                                            t.shifts().size());
                            i++) {
                        Shift s = t.shifts().get(i);
                        System.out.println(s.number() + " " + s.from() + ">" + s.to() + " " + s.measures());
                    }
                    continue;
                }
                String[] keys = {
                    "landing_deg",
                    "overtravel_deg",
                    "hold_s",
                    "motion_start_s",
                    "travel_time_s",
                    "settled_s",
                    "settle_time_s",
                    "ringing_deg",
                    "return_ringing_deg",
                    "clearance_deg",
                    "start_deg",
                    "extreme_deg",
                    "plateau_deg",
                    "request_s"
                };
                Measure[] ms = {
                    Measure.LANDING,
                    Measure.OVERTRAVEL,
                    Measure.HOLD,
                    Measure.MOTION_START,
                    Measure.TRAVEL_TIME,
                    Measure.SETTLED,
                    Measure.SETTLE_TIME,
                    Measure.RINGING,
                    Measure.RETURN_RINGING,
                    Measure.CLEARANCE,
                    Measure.START,
                    Measure.EXTREME,
                    Measure.PLATEAU,
                    Measure.REQUEST
                };
                double shiftTo = Double.NaN;
                for (int k = 0; k < keys.length; k++) {
                    double s = 0, ss = 0, max = 0;
                    int c = 0;
                    List<Double> d = new ArrayList<>();
                    for (int i = 0; i < t.shifts().size(); i++) {
                        var tr = b.shifts().get(i);
                        var sh = t.shifts().get(i);
                        if (k == 0
                                && (tr.get("from").asInt() != sh.from()
                                        || tr.get("to").asInt() != sh.to()
                                        || tr.get("cycle").asInt() != sh.cycle()
                                        || tr.get("direction").asInt()
                                                != sh.direction().sign()))
                            System.out.println(
                                    "  MISMATCH " + sh.number() + " " + sh.from() + ">" + sh.to() + " c" + sh.cycle()
                                            + " truth " + tr.get("from") + ">" + tr.get("to") + " c" + tr.get("cycle"));
                        var v = sh.get(ms[k]).number();
                        var q = tr.get(keys[k]);
                        if (v.isEmpty() || q == null || q.isNull()) continue;
                        double e = v.getAsDouble() - q.asDouble();
                        if (k == 3 || k == 5)
                            e -= sh.get(Measure.REQUEST).number().orElse(0)
                                    - tr.get("request_s").asDouble();
                        d.add(e);
                    }
                    boolean angle = List.of(0, 10, 11, 12).contains(k);
                    if (d.isEmpty()) {
                        System.out.printf("  %s none%n", keys[k]);
                        continue;
                    }
                    double mean = d.stream().mapToDouble(x -> x).average().orElse(0);
                    if (k == 0) shiftTo = mean;
                    double m2 = mean - (angle ? shiftTo : 0);
                    double sd = Math.sqrt(
                            d.stream().mapToDouble(x -> (x - mean) * (x - mean)).sum() / Math.max(1, d.size() - 1));
                    double mx = d.stream()
                            .mapToDouble(x -> Math.abs(x - (angle ? mean : 0)))
                            .max()
                            .orElse(0);
                    System.out.printf(
                            Locale.ROOT, "  %-20s n=%d bias %.5f sd %.5f max %.5f%n", keys[k], d.size(), m2, sd, mx);
                }
            }
        }
    }
}
