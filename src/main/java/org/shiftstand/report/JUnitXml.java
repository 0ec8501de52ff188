package org.shiftstand.report;

import java.io.StringWriter;
import java.io.Writer;
import java.util.List;
import java.util.Map;
import javax.xml.stream.XMLOutputFactory;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamWriter;

/**
 * Writes results in the XML that build servers read as test results: {@code testsuites}, {@code testsuite},
 * {@code testcase}, and in it {@code failure}, {@code error} or {@code skipped}. There is no standard of it; this is what is
 * common to those that read it, with counts on both levels.
 *
 * <p>What is not decided is an {@code error}: neither passed nor failed, and a server must not go green over it. What is not
 * judged is {@code skipped}. Text is escaped; characters that XML cannot hold are made visible.
 */
public final class JUnitXml {
    private JUnitXml() {}

    /** How a case ended. */
    public enum Ending {
        PASSED("passed"),
        FAILED("failure"),
        UNDECIDED("error"),
        NOT_JUDGED("skipped");

        private final String element;

        Ending(String element) {
            this.element = element;
        }
    }

    /**
     * One case.
     *
     * @param suite it belongs to, such as the clause
     * @param name within the suite
     * @param type the verdict in a word
     * @param message a sentence
     */
    public record Case(String suite, String name, Ending ending, String type, String message) {}

    /**
     * Writes the document; does not close the writer.
     *
     * @param name of the whole
     * @param properties facts of the run, in reading order
     * @param cases those of a suite one after another
     * @param out characters; the document says that it is UTF-8
     */
    public static void write(String name, Map<String, String> properties, List<Case> cases, Writer out)
            throws java.io.IOException {
        StringWriter text = new StringWriter();
        try {
            XMLStreamWriter xml = XMLOutputFactory.newFactory().createXMLStreamWriter(text);
            xml.writeStartDocument("UTF-8", "1.0");
            xml.writeCharacters("\n");
            xml.writeStartElement("testsuites");
            attribute(xml, "name", name);
            counts(xml, cases);
            List<String> suites = cases.stream().map(Case::suite).distinct().toList();
            boolean first = true;
            for (String suite : suites) {
                suite(
                        xml,
                        suite,
                        first ? properties : Map.of(),
                        cases.stream().filter(c -> c.suite().equals(suite)).toList());
                first = false;
            }
            xml.writeCharacters("\n");
            xml.writeEndElement();
            xml.writeCharacters("\n");
            xml.writeEndDocument();
            xml.flush();
        } catch (XMLStreamException e) {
            throw new IllegalStateException("the writer of this JDK refused well-formed calls: " + e.getMessage(), e);
        }
        out.append(text.getBuffer());
        out.flush();
    }

    private static void suite(XMLStreamWriter xml, String name, Map<String, String> properties, List<Case> cases)
            throws XMLStreamException {
        xml.writeCharacters("\n  ");
        xml.writeStartElement("testsuite");
        attribute(xml, "name", name);
        counts(xml, cases);
        if (!properties.isEmpty()) {
            xml.writeCharacters("\n    ");
            xml.writeStartElement("properties");
            for (Map.Entry<String, String> property : properties.entrySet()) {
                xml.writeCharacters("\n      ");
                xml.writeEmptyElement("property");
                attribute(xml, "name", property.getKey());
                attribute(xml, "value", property.getValue());
            }
            xml.writeCharacters("\n    ");
            xml.writeEndElement();
        }
        for (Case of : cases) {
            one(xml, of);
        }
        xml.writeCharacters("\n  ");
        xml.writeEndElement();
    }

    private static void one(XMLStreamWriter xml, Case of) throws XMLStreamException {
        xml.writeCharacters("\n    ");
        xml.writeStartElement("testcase");
        attribute(xml, "classname", of.suite());
        attribute(xml, "name", of.name());
        attribute(xml, "time", "0");
        xml.writeCharacters("\n      ");
        if (of.ending() == Ending.PASSED) {
            // beside the verdict the figures: a server shows them where somebody asks why
            xml.writeStartElement("system-out");
        } else {
            xml.writeStartElement(of.ending().element);
            attribute(xml, "message", of.message());
            if (of.ending() != Ending.NOT_JUDGED) {
                attribute(xml, "type", of.type());
            }
        }
        xml.writeCharacters(Words.clean(of.message()));
        xml.writeEndElement();
        xml.writeCharacters("\n    ");
        xml.writeEndElement();
    }

    private static void counts(XMLStreamWriter xml, List<Case> cases) throws XMLStreamException {
        attribute(xml, "tests", Integer.toString(cases.size()));
        attribute(xml, "failures", count(cases, Ending.FAILED));
        attribute(xml, "errors", count(cases, Ending.UNDECIDED));
        attribute(xml, "skipped", count(cases, Ending.NOT_JUDGED));
        attribute(xml, "time", "0");
    }

    private static String count(List<Case> cases, Ending ending) {
        return Long.toString(cases.stream().filter(c -> c.ending() == ending).count());
    }

    private static void attribute(XMLStreamWriter xml, String name, String value) throws XMLStreamException {
        xml.writeAttribute(name, Words.clean(value));
    }
}
