package org.shiftstand.report.pdf;

import java.io.IOException;
import java.io.InputStream;
import java.io.StringReader;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import javax.xml.XMLConstants;
import javax.xml.parsers.DocumentBuilder;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.jspecify.annotations.Nullable;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.Node;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;
import org.xml.sax.SAXException;

/**
 * A page made ready for paper: the style of print instead of that of screens, an outline from its headings, and each
 * drawing's own words where readers of PDF look for them.
 *
 * @param made when the page says that it was made; empty where it does not
 */
record Paper(Document document, Optional<Instant> made) {
    /** A drawing with its notes fits a page. */
    private static final double HIGHEST_MM = 190;

    /**
     * That of the drawings, 12, and a little: openhtmltopdf keeps a font that was added as a file as one of size 12, but draws it at
     * size 1 where exactly 12 is asked for.
     */
    private static final String TEXT_SIZE = "12.01";

    static Paper of(String page) {
        Document document = parse(page);
        Element head = first(document, "head");
        String foot = foot(document);
        for (Element style : all(document, "style")) {
            style.getParentNode().removeChild(style);
        }
        Element style = document.createElementNS(head.getNamespaceURI(), "style");
        style.setTextContent(css() + foot);
        head.appendChild(style);
        head.appendChild(outline(document, head.getNamespaceURI()));
        described(document, head);
        all(document, "svg").forEach(Paper::alternative);
        all(document, "details").forEach(details -> details.setAttribute("class", "open"));
        for (String screen : List.of("nav", "summary")) {
            all(document, screen).forEach(e -> e.getParentNode().removeChild(e));
        }
        for (Element skip : all(document, "a")) {
            if (skip.getAttribute("class").equals("skip")) {
                skip.getParentNode().removeChild(skip);
            }
        }
        return new Paper(document, made(document));
    }

    private static Document parse(String page) {
        try {
            DocumentBuilderFactory factory = DocumentBuilderFactory.newDefaultInstance();
            factory.setNamespaceAware(true);
            factory.setFeature(XMLConstants.FEATURE_SECURE_PROCESSING, true);
            factory.setAttribute(XMLConstants.ACCESS_EXTERNAL_DTD, "");
            DocumentBuilder builder = factory.newDocumentBuilder();
            builder.setErrorHandler(null); // its own would print
            return builder.parse(new InputSource(new StringReader(page)));
        } catch (ParserConfigurationException | SAXException | IOException e) {
            throw new IllegalArgumentException("page is not well-formed: " + e.getMessage(), e);
        }
    }

    private static String css() {
        try (InputStream in = Paper.class.getResourceAsStream("paper.css")) {
            if (in == null) {
                throw new IllegalStateException("paper.css is missing");
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new IllegalStateException("paper.css cannot be read", e);
        }
    }

    /** Unit and report number at the foot of each page, as the page itself has them for print. */
    private static String foot(Document document) {
        List<Element> styles = all(document, "style");
        return styles.size() < 2
                ? ""
                : styles.get(1).getTextContent().replace("9pt sans-serif", "8pt \"Liberation Sans\";color:#4a5763");
    }

    private static Element outline(Document document, @Nullable String space) {
        Element outline = document.createElementNS(space, "bookmarks");
        Element section = outline;
        for (Element heading : headings(document)) {
            String id = heading.getAttribute("id");
            if (id.isEmpty()) {
                continue;
            }
            Element mark = document.createElementNS(space, "bookmark");
            mark.setAttribute(
                    "name", heading.getTextContent().replaceAll("\\s+", " ").strip());
            mark.setAttribute("href", "#" + id);
            if (heading.getLocalName().equals("h3")) {
                section.appendChild(mark);
            } else {
                outline.appendChild(mark);
                section = mark;
            }
        }
        return outline;
    }

    private static List<Element> headings(Document document) {
        return all(document, "*").stream()
                .filter(e -> e.getLocalName().matches("h[123]"))
                .toList();
    }

    private static void described(Document document, Element head) {
        String title = first(document, "title").getTextContent();
        for (String name : List.of("subject", "description")) {
            Element meta = document.createElementNS(head.getNamespaceURI(), "meta");
            meta.setAttribute("name", name);
            meta.setAttribute("content", title);
            head.appendChild(meta);
        }
    }

    /** A drawing's title and description; a mark beside its word has nothing to add. */
    private static void alternative(Element svg) {
        List<String> words = new ArrayList<>();
        for (Node child = svg.getFirstChild(); child != null; child = child.getNextSibling()) {
            String name = child.getLocalName();
            if ("title".equals(name) || "desc".equals(name)) {
                words.add(child.getTextContent());
            }
        }
        svg.setAttribute("alt", words.isEmpty() ? " " : String.join(". ", words));
        svg.removeAttribute("role");
        svg.setAttribute("font-family", PaperFonts.SANS);
        svg.setAttribute("font-size", TEXT_SIZE);
        sized(svg);
    }

    /** As wide as its place on the paper and as high as its shape asks; a mark is sized by the style. */
    private static void sized(Element svg) {
        String[] box = svg.getAttribute("viewBox").split(" ");
        if (svg.getAttribute("class").contains("mark") || box.length != 4) {
            return;
        }
        double width = inside(svg, "many") ? 56 : inside(svg, "table") ? 30 : 178;
        double height = width * Double.parseDouble(box[3]) / Double.parseDouble(box[2]);
        double scale = Math.min(1, HIGHEST_MM / height);
        svg.setAttribute(
                "style", String.format(Locale.ROOT, "width:%.1fmm;height:%.1fmm", width * scale, height * scale));
    }

    private static boolean inside(Element element, String nameOrClass) {
        for (Node up = element.getParentNode(); up instanceof Element parent; up = parent.getParentNode()) {
            if (parent.getLocalName().equals(nameOrClass)
                    || parent.getAttribute("class").equals(nameOrClass)) {
                return true;
            }
        }
        return false;
    }

    private static Optional<Instant> made(Document document) {
        return all(document, "time").stream()
                .map(time -> Instant.parse(time.getAttribute("datetime")))
                .findFirst();
    }

    private static Element first(Document document, String name) {
        return all(document, name).get(0);
    }

    private static List<Element> all(Document document, String name) {
        NodeList found = document.getElementsByTagNameNS("*", name);
        List<Element> elements = new ArrayList<>();
        for (int i = 0; i < found.getLength(); i++) {
            elements.add((Element) found.item(i));
        }
        return elements;
    }
}
