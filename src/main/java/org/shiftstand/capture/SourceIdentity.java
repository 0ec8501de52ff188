package org.shiftstand.capture;

/**
 * What the samples came from.
 *
 * @param kind {@code csv} or {@code record}
 * @param name file name without folders
 * @param sha256 digest of the content, lower-case hex
 */
public record SourceIdentity(String kind, String name, String sha256) {}
