package org.shiftstand.capture;

import java.util.ArrayList;
import java.util.List;

/** A whole source in memory, for tests: one array of values a sample, in the order of the fields of a block. */
final class Samples {
    private Samples() {}

    /** time, sin, cos, powered (1 or 0), window, current, supply. */
    static List<double[]> of(SampleSource source, int blockSize) {
        return read(source.open(), blockSize);
    }

    static List<double[]> read(SampleReader opened, int blockSize) {
        var all = new ArrayList<double[]>();
        var block = new SampleBlock(blockSize);
        try (SampleReader reader = opened) {
            while (reader.next(block)) {
                for (int i = 0; i < block.size(); i++) {
                    all.add(new double[] {
                        block.timeS[i],
                        block.hallSin[i],
                        block.hallCos[i],
                        block.powered[i] ? 1 : 0,
                        block.window[i],
                        block.currentA[i],
                        block.supplyV[i]
                    });
                }
            }
        }
        return all;
    }
}
