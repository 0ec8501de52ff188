package org.shiftstand.report;

import org.unbescape.xml.XmlEscape;
import org.unbescape.xml.XmlEscapeLevel;
import org.unbescape.xml.XmlEscapeType;

/**
 * Writes one inline SVG drawing as well-formed XML: attributes are the caller's constants and numbers, text is escaped.
 *
 * <p>Colours are presentation attributes, so that a drawing looks the same without the page's style sheet.
 */
final class Svg {
    private static final String FONT = "system-ui, -apple-system, 'Segoe UI', 'Helvetica Neue', Arial, sans-serif";

    private final StringBuilder out = new StringBuilder(4096);

    /**
     * @param id unique in the page
     * @param title what it is, for those who hear it
     * @param desc what it shows, in a sentence or two
     */
    Svg(String id, double width, double height, String title, String desc) {
        out.append("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 ");
        number(width).append(' ');
        number(height).append("\" width=\"");
        number(width).append("\" height=\"");
        number(height)
                .append("\" role=\"img\" aria-labelledby=\"")
                .append(id)
                .append("-t ")
                .append(id);
        out.append("-d\" font-family=\"").append(FONT).append("\" font-size=\"12\">");
        out.append("<title id=\"")
                .append(id)
                .append("-t\">")
                .append(escape(title))
                .append("</title>");
        out.append("<desc id=\"")
                .append(id)
                .append("-d\">")
                .append(escape(desc))
                .append("</desc>");
    }

    /** Everything until {@link #end} inherits these attributes. */
    Svg group(String attributes) {
        out.append("<g ").append(attributes).append('>');
        return this;
    }

    Svg stroke(String colour, double width) {
        return group("fill=\"none\" stroke=\"" + colour + "\" stroke-width=\"" + coordinate(width) + "\"");
    }

    Svg dashed(String colour, double width) {
        return group("fill=\"none\" stroke=\"" + colour + "\" stroke-width=\"" + coordinate(width)
                + "\" stroke-dasharray=\"5 3\"");
    }

    Svg fill(String colour) {
        return group("fill=\"" + colour + "\"");
    }

    Svg end() {
        out.append("</g>");
        return this;
    }

    Svg line(double x1, double y1, double x2, double y2) {
        out.append("<path d=\"M");
        number(x1).append(' ');
        number(y1).append('L');
        number(x2).append(' ');
        number(y2).append("\"/>");
        return this;
    }

    Svg rect(double x, double y, double width, double height) {
        out.append("<rect x=\"");
        number(x).append("\" y=\"");
        number(y).append("\" width=\"");
        number(Math.max(0, width)).append("\" height=\"");
        number(Math.max(0, height)).append("\"/>");
        return this;
    }

    Svg path(CharSequence d) {
        if (d.length() > 0) {
            out.append("<path d=\"").append(d).append("\"/>");
        }
        return this;
    }

    /** @param anchor {@code start}, {@code middle} or {@code end} */
    Svg text(double x, double y, String anchor, String text) {
        out.append("<text x=\"");
        number(x).append("\" y=\"");
        number(y).append("\" text-anchor=\"").append(anchor).append("\">");
        out.append(escape(text)).append("</text>");
        return this;
    }

    /** Text over lines: on a paper-coloured ground of its own. */
    Svg haloed(double x, double y, String anchor, String colour, String text) {
        group("stroke=\"" + Palette.PAPER + "\" stroke-width=\"4\" stroke-linejoin=\"round\" fill=\"" + Palette.PAPER
                + "\" aria-hidden=\"true\"");
        text(x, y, anchor, text).end();
        return fill(colour).text(x, y, anchor, text).end();
    }

    String finish() {
        return out.append("</svg>").toString();
    }

    /** A path that draws a round dot at each point when stroked with round caps. */
    static StringBuilder dot(StringBuilder d, double x, double y) {
        return d.append('M')
                .append(coordinate(x))
                .append(' ')
                .append(coordinate(y))
                .append("h.01");
    }

    static StringBuilder move(StringBuilder d, double x, double y) {
        return d.append('M').append(coordinate(x)).append(' ').append(coordinate(y));
    }

    static StringBuilder draw(StringBuilder d, double x, double y) {
        return d.append('L').append(coordinate(x)).append(' ').append(coordinate(y));
    }

    /** Markup characters escaped; what XML forbids, and marks that turn the reading direction, made visible. */
    static String escape(String text) {
        return XmlEscape.escapeXml10(
                Words.clean(text),
                XmlEscapeType.CHARACTER_ENTITY_REFERENCES_DEFAULT_TO_DECIMAL,
                XmlEscapeLevel.LEVEL_1_ONLY_MARKUP_SIGNIFICANT);
    }

    /** One decimal, no trailing zero: a tenth of a drawing unit is finer than a printer's dot. */
    static String coordinate(double value) {
        long tenths = Math.round(value * 10);
        long whole = Math.abs(tenths) / 10;
        long tenth = Math.abs(tenths) % 10;
        String text = tenth == 0 ? Long.toString(whole) : whole + "." + tenth;
        return tenths < 0 ? "-" + text : text;
    }

    private StringBuilder number(double value) {
        return out.append(coordinate(value));
    }
}
