package org.shiftstand.record;

/**
 * Something that happened in a run.
 *
 * @param atMicros on the record's clock
 * @param kind word: {@code hall-on, hall-off, request, supply-on, supply-off, over-current, emergency-stop, watchdog,
 *     temperature, overrun, supply-set, home, end}
 * @param value as the kind defines: direction of a request, millivolts, a cause
 * @param from sprocket of a request, 0 where unknown
 * @param to sprocket of a request, 0 where unknown
 * @param cycle of a request, 0 where unknown (homing)
 * @param step label of the procedure step, empty where none
 * @param supplyMv supply set at the time, 0 where unknown
 * @param text remark for readers, empty where none
 */
public record RunEvent(
        long atMicros, String kind, int value, int from, int to, int cycle, String step, int supplyMv, String text) {}
