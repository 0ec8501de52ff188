package org.shiftstand.archive.sign;

import java.time.Instant;
import java.util.Optional;

/** What is to be thought of one signature. */
public sealed interface SignatureCheck {
    /** Path in the bag. */
    String file();

    <R> R match(Cases<R> cases);

    /**
     * What a signature says, once it holds.
     *
     * @param file path in the bag
     * @param role in which the signer signed
     * @param fingerprint of the key
     * @param name as it is disclosed in the bag, else as the list of known keys has it; empty where neither has it
     * @param at when, by the signer's clock
     * @param verdict that was signed
     * @param disposition of a unit that did not pass
     */
    record Said(
            String file,
            String role,
            String fingerprint,
            Optional<String> name,
            Instant at,
            String verdict,
            Optional<String> disposition) {}

    /** It holds, and the key is known, for this role and time. */
    record Good(Said said) implements SignatureCheck {
        @Override
        public String file() {
            return said.file();
        }

        @Override
        public <R> R match(Cases<R> cases) {
            return cases.good(said);
        }
    }

    /** It holds, and nobody here knows the key: whose it is, is not proved. */
    record UnknownSigner(Said said) implements SignatureCheck {
        @Override
        public String file() {
            return said.file();
        }

        @Override
        public <R> R match(Cases<R> cases) {
            return cases.unknownSigner(said);
        }
    }

    /** It holds, and the key is known but not to be relied on here: revoked, out of its time, or for other roles. */
    record NotTrusted(Said said, String why) implements SignatureCheck {
        @Override
        public String file() {
            return said.file();
        }

        @Override
        public <R> R match(Cases<R> cases) {
            return cases.notTrusted(said, why);
        }
    }

    /** It does not hold. */
    record Bad(String file, String why) implements SignatureCheck {
        @Override
        public <R> R match(Cases<R> cases) {
            return cases.bad(this);
        }
    }

    /** One answer for each. */
    interface Cases<R> {
        R good(Said said);

        R unknownSigner(Said said);

        R notTrusted(Said said, String why);

        R bad(Bad bad);
    }
}
