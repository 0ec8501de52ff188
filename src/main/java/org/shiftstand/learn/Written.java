package org.shiftstand.learn;

import java.util.List;
import java.util.Optional;

/** A text to write to a file, or why there is none. */
public sealed interface Written {
    /** The text of the file, lines ended by LF. */
    record Text(String text) implements Written {
        @Override
        public <R> R match(Cases<R> cases) {
            return cases.text(text);
        }
    }

    /** @param reasons each a clause without a full stop; at least one */
    record Withheld(List<String> reasons) implements Written {
        public Withheld {
            reasons = List.copyOf(reasons);
        }

        @Override
        public <R> R match(Cases<R> cases) {
            return cases.withheld(reasons);
        }
    }

    <R> R match(Cases<R> cases);

    /** The text, where there is one. */
    default Optional<String> whole() {
        return match(new Cases<>() {
            @Override
            public Optional<String> text(String text) {
                return Optional.of(text);
            }

            @Override
            public Optional<String> withheld(List<String> reasons) {
                return Optional.empty();
            }
        });
    }

    interface Cases<R> {
        R text(String text);

        R withheld(List<String> reasons);
    }
}
