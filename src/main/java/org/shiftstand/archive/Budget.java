package org.shiftstand.archive;

/** How many bytes an archive may still expand to. */
final class Budget {
    private final BagLimits limits;
    private long expanded;
    private long declared = -1;

    Budget(BagLimits limits) {
        this.limits = limits;
    }

    /** @param octets of payload, as {@code Payload-Oxum} says */
    void declare(long octets) {
        declared = octets;
    }

    /**
     * Takes note of bytes that came out.
     *
     * @param compressed bytes of the archive that were read so far
     * @throws Stop where they are too many
     */
    void expand(int octets, long compressed) throws Stop {
        expanded += octets;
        if (declared >= 0 && expanded - limits.freeOctets() > declared) {
            throw Stop.bomb("expands to more than the " + declared
                    + " bytes of payload that bag-info.txt states; reading" + " stopped there");
        }
        if (expanded - limits.freeOctets() > limits.ratio() * compressed) {
            throw Stop.bomb(
                    "expands more than " + limits.ratio() + " to one; reading stopped after " + expanded + " bytes");
        }
    }
}
