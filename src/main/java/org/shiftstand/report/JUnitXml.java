package org.shiftstand.report;

import java.io.IOException;
import java.io.StringWriter;
import java.io.Writer;
import java.util.Collections;
import java.util.LinkedHashMap;
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
    /** What stands after the suites. */
    public static final String END = "\n</testsuites>\n";

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
     * @param classname servers sort by it: what stands before its last dot is one more level
     * @param name within the class
     * @param type the verdict in a word
     * @param message a sentence
     * @param text what a server shows where somebody asks why
     */
    public record Case(String classname, String name, Ending ending, String type, String message, String text) {
        /** A case that its message says everything of. */
        public Case(String classname, String name, Ending ending, String type, String message) {
            this(classname, name, ending, type, message, message);
        }
    }

    /**
     * Cases that belong together.
     *
     * @param properties facts, in reading order
     */
    public record Suite(String name, Map<String, String> properties, List<Case> cases) {
        public Suite {
            properties = Collections.unmodifiableMap(new LinkedHashMap<>(properties)); // keeps their order
            cases = List.copyOf(cases);
        }

        /** How many cases ended how. */
        public Counts counts() {
            return new Counts(cases.size(), ended(Ending.FAILED), ended(Ending.UNDECIDED), ended(Ending.NOT_JUDGED));
        }

        private long ended(Ending ending) {
            return cases.stream().filter(c -> c.ending() == ending).count();
        }
    }

    /** How many cases there are and how many did not pass. */
    public record Counts(long tests, long failures, long errors, long skipped) {
        public static final Counts NONE = new Counts(0, 0, 0, 0);

        public Counts plus(Counts more) {
            return new Counts(
                    tests + more.tests, failures + more.failures, errors + more.errors, skipped + more.skipped);
        }
    }

    /** Writes the document; does not close the writer. The document says that it is UTF-8. */
    public static void write(String name, List<Suite> suites, Writer out) throws IOException {
        out.append(head(name, suites.stream().map(Suite::counts).reduce(Counts.NONE, Counts::plus)));
        for (Suite suite : suites) {
            out.append(element(suite));
        }
        out.append(END);
        out.flush();
    }

    /** What stands before the suites, where they are made one after another. */
    public static String head(String name, Counts all) {
        return written(xml -> {
            xml.writeStartDocument("UTF-8", "1.0");
            xml.writeCharacters("\n");
            xml.writeStartElement("testsuites");
            attribute(xml, "name", name);
            counts(xml, all);
            xml.writeCharacters("");
        });
    }

    /** One suite. */
    public static String element(Suite suite) {
        return written(xml -> suite(xml, suite));
    }

    private interface Content {
        void writeTo(XMLStreamWriter xml) throws XMLStreamException;
    }

    private static String written(Content content) {
        StringWriter text = new StringWriter();
        try {
            XMLStreamWriter xml = XMLOutputFactory.newFactory().createXMLStreamWriter(text);
            content.writeTo(xml);
            xml.flush();
        } catch (XMLStreamException e) {
            throw new IllegalStateException("the writer of this JDK refused well-formed calls: " + e.getMessage(), e);
        }
        return text.toString();
    }

    private static void suite(XMLStreamWriter xml, Suite suite) throws XMLStreamException {
        xml.writeCharacters("\n  ");
        xml.writeStartElement("testsuite");
        attribute(xml, "name", suite.name());
        counts(xml, suite.counts());
        if (!suite.properties().isEmpty()) {
            xml.writeCharacters("\n    ");
            xml.writeStartElement("properties");
            for (Map.Entry<String, String> property : suite.properties().entrySet()) {
                xml.writeCharacters("\n      ");
                xml.writeEmptyElement("property");
                attribute(xml, "name", property.getKey());
                attribute(xml, "value", property.getValue());
            }
            xml.writeCharacters("\n    ");
            xml.writeEndElement();
        }
        for (Case of : suite.cases()) {
            one(xml, of);
        }
        xml.writeCharacters("\n  ");
        xml.writeEndElement();
    }

    private static void one(XMLStreamWriter xml, Case of) throws XMLStreamException {
        xml.writeCharacters("\n    ");
        xml.writeStartElement("testcase");
        attribute(xml, "classname", of.classname());
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
        xml.writeCharacters(Words.clean(of.text()));
        xml.writeEndElement();
        xml.writeCharacters("\n    ");
        xml.writeEndElement();
    }

    private static void counts(XMLStreamWriter xml, Counts all) throws XMLStreamException {
        attribute(xml, "tests", Long.toString(all.tests()));
        attribute(xml, "failures", Long.toString(all.failures()));
        attribute(xml, "errors", Long.toString(all.errors()));
        attribute(xml, "skipped", Long.toString(all.skipped()));
        attribute(xml, "time", "0");
    }

    private static void attribute(XMLStreamWriter xml, String name, String value) throws XMLStreamException {
        xml.writeAttribute(name, Words.clean(value));
    }
}
