package org.shiftstand.link;

/**
 * What a frame turned out to say.
 *
 * @param <M> {@link HostMessage} on the rig's side, {@link RigMessage} on the host's
 */
public sealed interface Decoded<M> {
    /** A message of this version. */
    record Known<M>(M message) implements Decoded<M> {}

    /** A type of a later minor version, or one reserved: ignored and counted, never answered. */
    record Unknown<M>(int type) implements Decoded<M> {}

    /** A known type whose payload is too short, or a field without meaning; a rig answers with fault 5. */
    record Malformed<M>(int type, String reason) implements Decoded<M> {}
}
