package org.shiftstand.reference;

import java.nio.charset.StandardCharsets;
import java.util.List;
import org.shiftstand.archive.sign.SigningFigures;
import tools.jackson.databind.node.JsonNodeFactory;

/** How numbers are spelt in canonical form. */
final class CanonicalNumbers implements Published {
    /** A page of hundreds more would be read by nobody. */
    private static final int SHOWN = 24;

    @Override
    public Source source() {
        return new Source("REF-JCS-02", "RFC 8785, 3.2.2.3 and Appendix B", "VERIFIED, some rows COMPUTED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        Reference table = Reference.csv("reference/signature/jcs_numbers.csv");
        List<String> bits = table.words("ieee754_hex");
        List<String> published = table.words("jcs_text");
        int alike = 0;
        for (int i = 0; i < bits.size(); i++) {
            double value = Double.longBitsToDouble(Long.parseUnsignedLong(bits.get(i), 16));
            byte[] array = SigningFigures.canonical(
                    JsonNodeFactory.instance.arrayNode().add(value));
            String ours = new String(array, 1, array.length - 2, StandardCharsets.US_ASCII);
            if (i < SHOWN) {
                comparisons.word("0x" + bits.get(i), published.get(i), ours);
            } else {
                alike += published.get(i).equals(ours) ? 1 : 0;
            }
        }
        comparisons.count("further numbers of the file that are spelt alike", bits.size() - SHOWN, alike);
    }
}
