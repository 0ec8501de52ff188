package org.shiftstand.sim;

/**
 * One line of a simulated rig's supply log.
 *
 * @param atMicros rig's clock
 * @param milliVolts set from here on; 0 for off
 * @param cause {@code arm, supply-set, cut, stop, hello, port-lost, watchdog} or the words of a fault
 */
public record SupplyChange(long atMicros, int milliVolts, String cause) {}
