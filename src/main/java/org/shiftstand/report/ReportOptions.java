package org.shiftstand.report;

import java.time.Instant;

/**
 * What a report says about itself.
 *
 * @param generated when it was made; printed in UTC on one line of its own
 * @param toolVersion version of this software
 */
public record ReportOptions(Instant generated, String toolVersion) {}
