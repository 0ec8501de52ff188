package org.shiftstand.report;

import org.shiftstand.spec.Verdict;

/** The shapes that tell verdicts apart without colour: ring with tick, diamond with cross, broken square with bar. */
final class Mark {
    private Mark() {}

    static String colour(Verdict verdict) {
        return switch (verdict) {
            case PASS -> Palette.PASS;
            case FAIL -> Palette.FAIL;
            case NO_VERDICT -> Palette.OPEN;
        };
    }

    /** As people read it. */
    static String word(Verdict verdict) {
        return switch (verdict) {
            case PASS -> "pass";
            case FAIL -> "fail";
            case NO_VERDICT -> "no verdict";
        };
    }

    /** A symbol beside its word, which says the same: hidden from those who hear the page. */
    static String symbol(Verdict verdict, int size) {
        return "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"mark\" viewBox=\"0 0 24 24\" width=\"" + size
                + "\" height=\"" + size + "\" aria-hidden=\"true\" focusable=\"false\">" + shape(verdict) + "</svg>";
    }

    private static String shape(Verdict verdict) {
        String colour = colour(verdict);
        String stroke = "fill=\"none\" stroke=\"" + colour + "\" stroke-width=\"2.4\"";
        return switch (verdict) {
            case PASS ->
                "<circle cx=\"12\" cy=\"12\" r=\"10\" " + stroke + "/><path d=\"M7 12.4l3.6 3.6L17.4 8.4\" " + stroke
                        + "/>";
            case FAIL ->
                "<path d=\"M12 .8L23.2 12L12 23.2L.8 12Z\" fill=\"" + colour
                        + "\"/><path d=\"M8.4 8.4l7.2 7.2M15.6 8.4l-7.2 7.2\" fill=\"none\" stroke=\"" + Palette.PAPER
                        + "\" stroke-width=\"2.4\"/>";
            case NO_VERDICT ->
                "<path d=\"M2.5 8V2.5H8M16 2.5h5.5V8M21.5 16v5.5H16M8 21.5H2.5V16\" " + stroke
                        + "/><path d=\"M7 12h10\" " + stroke + "/>";
        };
    }

    /** Diamond around a point, to be filled: a shift that broke a bound. */
    static StringBuilder diamond(StringBuilder d, double x, double y, double half) {
        return d.append('M')
                .append(Svg.coordinate(x))
                .append(' ')
                .append(Svg.coordinate(y - half))
                .append('l')
                .append(Svg.coordinate(half))
                .append(' ')
                .append(Svg.coordinate(half))
                .append('l')
                .append(Svg.coordinate(-half))
                .append(' ')
                .append(Svg.coordinate(half))
                .append('l')
                .append(Svg.coordinate(-half))
                .append(' ')
                .append(Svg.coordinate(-half))
                .append('z');
    }
}
