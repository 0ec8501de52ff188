package org.shiftstand.shift;

import org.shiftstand.angle.*;

class Dump3 {
    public static void main(String[] a) {
        Bench b = Bench.load("bench-" + a[0]);
        var t = b.track();
        var bl = new AngleBlock(4096);
        try (var r = t.open()) {
            while (r.next(bl))
                for (int i = 0; i < bl.size(); i++) {
                    if (bl.timeS[i] >= Double.parseDouble(a[1]) && bl.timeS[i] <= Double.parseDouble(a[2]))
                        System.out.println(bl.timeS[i] + " " + bl.angleDeg[i] + " s" + bl.state[i] + " e" + bl.edge[i]
                                + " p" + bl.powered[i] + " r" + bl.radius[i]);
                }
        }
    }
}
