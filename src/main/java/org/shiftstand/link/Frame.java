package org.shiftstand.link;

/**
 * One frame as decoded, before its payload is understood.
 *
 * @param version protocol major version
 * @param type message number, 0…255
 * @param sequence 0…65535, counted by the sender; a resend repeats it
 * @param payload bytes, at most 1016
 */
@SuppressWarnings("ArrayRecordComponent") // a carrier between codec and messages; never compared
public record Frame(int version, int type, int sequence, byte[] payload) {}
