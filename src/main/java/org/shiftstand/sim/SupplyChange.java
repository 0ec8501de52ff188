package org.shiftstand.sim;

/**
 * One line of a simulated rig's supply log.
 *
 * @param atMicros since the simulation began: the rig's clock, as long as it does not boot again
 * @param milliVolts set from here on; 0 for off
 * @param cause {@code arm, supply-set, cut, stop, hello, port-lost, watchdog} or the words of a fault
 * @param sinceBeatMicros since the last heartbeat, or since {@code arm} where none came
 */
public record SupplyChange(long atMicros, int milliVolts, String cause, long sinceBeatMicros) {}
