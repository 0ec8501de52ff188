package org.shiftstand.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.capture.SampleSource;

/**
 * What a capture holds once it is read.
 *
 * @param count of samples
 * @param firstS time of the first, seconds
 * @param lastS time of the last, seconds
 * @param intervalS median time between neighbours, seconds
 * @param uneven how many neighbours are more than 1.5 intervals apart
 * @param requests marked
 * @param notices of reading
 */
record ImportedSamples(
        long count, double firstS, double lastS, double intervalS, long uneven, int requests, List<String> notices) {
    static ImportedSamples of(SampleSource source) {
        long count = 0;
        long uneven = 0;
        double first = 0;
        double last = 0;
        double interval = source.intervalS();
        try (SampleReader reader = source.open()) {
            var block = new SampleBlock(4096);
            while (reader.next(block)) {
                for (int i = 0; i < block.size(); i++) {
                    double time = block.timeS[i];
                    first = count == 0 ? time : first;
                    uneven += count > 0 && time - last > 1.5 * interval ? 1 : 0;
                    last = time;
                    count++;
                }
            }
        }
        return new ImportedSamples(
                count, first, last, interval, uneven, source.requests().size(), source.notices());
    }

    double durationS() {
        return lastS - firstS;
    }

    List<String> lines() {
        List<String> lines = new ArrayList<>();
        lines.add(String.format(
                Locale.ROOT,
                "Read: %d samples over %.3f s, one in %.4g ms (%.5g Hz)%s.",
                count,
                durationS(),
                1e3 * intervalS,
                1 / intervalS,
                requests == 0 ? "" : ", " + requests + (requests == 1 ? " marked request" : " marked requests")));
        if (uneven > 0) {
            lines.add("note: " + uneven + (uneven == 1 ? " time is" : " times are")
                    + " more than one and a half intervals after the one before: uneven sampling, or rows are missing");
        }
        notices.forEach(notice -> lines.add("note: " + notice));
        return lines;
    }
}
