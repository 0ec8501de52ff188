package org.shiftstand.rig;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.shiftstand.record.RunEvent;
import org.shiftstand.record.RunWriter;

/** Keeps a run in memory, in the order of writing; can be told to fail as a full disk does. */
class MemoryWriter implements RunWriter {
    record Block(long number, long firstMicros, int count) {}

    record Gap(long fromMicros, long toMicros, long samples, String cause) {}

    final List<Object> written = new ArrayList<>();
    final List<Block> blocks = new ArrayList<>();
    final List<Gap> gaps = new ArrayList<>();
    final List<RunEvent> events = new ArrayList<>();
    final List<String> sessions = new ArrayList<>();
    final List<Long> anchors = new ArrayList<>();
    final List<Integer> places = new ArrayList<>();
    final Map<String, Long> counters = new TreeMap<>();
    String end = "(not finished)";
    boolean closed;
    RuntimeException failsWith = new IllegalStateException("not set");
    int failsAtBlock = -1;

    @Override
    public void session(long atMicros, long offsetMicros, long utcMicros, String cause) {
        sessions.add(cause);
        written.add(cause);
    }

    @Override
    public void block(long blockNumber, long firstMicros, long intervalNanos, short[] samples) {
        if (blocks.size() == failsAtBlock) {
            throw failsWith;
        }
        blocks.add(new Block(blockNumber, firstMicros, samples.length / 4));
        written.add(blocks.get(blocks.size() - 1));
    }

    @Override
    public void event(RunEvent event) {
        events.add(event);
        written.add(event);
    }

    @Override
    public void gap(long fromMicros, long toMicros, long samples, String cause) {
        gaps.add(new Gap(fromMicros, toMicros, samples, cause));
        written.add(gaps.get(gaps.size() - 1));
    }

    @Override
    public void anchor(long rigMicros, long utcMicros) {
        anchors.add(rigMicros);
    }

    @Override
    public void place(int action, long atMicros) {
        places.add(action);
    }

    @Override
    public void counter(String name, long value) {
        counters.put(name, value);
    }

    @Override
    public void finish(String end) {
        this.end = end;
    }

    @Override
    public void close() {
        closed = true;
    }

    List<RunEvent> events(String kind) {
        return events.stream().filter(e -> e.kind().equals(kind)).toList();
    }
}
