package org.shiftstand.rig;

import java.util.Optional;
import org.shiftstand.bench.ProbeReport;

/**
 * How a probe ended. The supply is off.
 *
 * @param report what was found; empty where it ended before the rig had said who it is, or a person stopped it
 * @param end completed, or why it went no further
 */
public record ProbeEnd(Optional<ProbeReport> report, RunEnd end) {}
