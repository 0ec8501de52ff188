package org.shiftstand.document;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.time.Duration;
import org.junit.jupiter.api.Assertions;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

class YamlTest {
    /** All problems of a text as the user would see them. */
    private static String problems(String text) {
        var problems = new Problems("x.yaml");
        BadInput thrown = catchThrowableOfType(BadInput.class, () -> {
            Yaml.read(TextFile.of("x.yaml", text), problems, "a spec");
            problems.check();
        });
        return thrown == null ? "" : String.valueOf(thrown.getMessage());
    }

    @Nested
    class Sharing_and_tricks {
        @Test
        void an_anchor_and_its_alias_are_both_refused_with_their_places() {
            assertThat(problems("""
                    a: &here 1
                    b: *here
                    """)).isEqualTo("""
                    x.yaml:1:4: anchor '&here' is not allowed; remove it
                    x.yaml:2:4: alias '*here' is not allowed; write the value out here""");
        }

        /** The classic file that grows to gigabytes: ten aliases of ten aliases of … */
        @Test
        void a_file_that_would_grow_without_bounds_is_refused_at_once() {
            var text = new StringBuilder("a0: &a0 [x]\n");
            for (int i = 1; i < 30; i++) {
                text.append("a").append(i).append(": &a").append(i).append(" [");
                text.append(("*a" + (i - 1) + ", ").repeat(9))
                        .append("*a")
                        .append(i - 1)
                        .append("]\n");
            }

            String found =
                    Assertions.assertTimeoutPreemptively(Duration.ofSeconds(20), () -> problems(text.toString()));

            assertThat(found)
                    .startsWith("x.yaml:1:5: anchor '&a0' is not allowed; remove it\n")
                    .endsWith("x.yaml: 270 further problems are not shown; mend these first");
        }

        @Test
        void a_merge_key_is_refused() {
            assertThat(problems("a: { <<: { b: 1 } }\n"))
                    .isEqualTo("x.yaml:1:6: merge key '<<' is not allowed; write the keys out here");
        }

        @Test
        void a_tag_is_refused() {
            assertThat(problems("a: !!java.net.URL [x]\n"))
                    .isEqualTo("x.yaml:1:4: tag 'tag:yaml.org,2002:java.net.URL' is not allowed; remove it");
        }

        @Test
        void a_key_given_twice_names_both_lines() {
            assertThat(problems("version: 1\ntitle: x\nversion: 2\n"))
                    .isEqualTo("x.yaml:3:1: key 'version' is given twice, before in line 1; expected it once");
        }

        @Test
        void a_key_that_is_a_list_is_refused() {
            assertThat(problems("[1, 2]: x\n")).isEqualTo("x.yaml:1:1: a key is a list; expected a word");
        }

        @Test
        void nesting_up_to_32_is_read_and_beyond_is_refused() {
            String deepest = "a: " + "[".repeat(31) + "]".repeat(31) + "\n";
            String deeper = "a: " + "[".repeat(32) + "]".repeat(32) + "\n";

            assertThat(problems(deepest)).isEmpty();
            assertThat(problems(deeper))
                    .isEqualTo("x.yaml:1:35: nested deeper than 32 levels; expected a flatter file");
        }

        @Test
        void nesting_of_a_hundred_thousand_does_not_break_the_reader() {
            String found = Assertions.assertTimeoutPreemptively(
                    Duration.ofSeconds(20), () -> problems("a: " + "[".repeat(100_000)));

            assertThat(found).isEqualTo("x.yaml:1:35: nested deeper than 32 levels; expected a flatter file");
        }

        @Test
        void a_second_document_is_refused() {
            assertThat(problems("a: 1\n---\nb: 2\n"))
                    .isEqualTo("x.yaml:2:1: a second document starts here; expected one document in a file");
        }
    }

    @Nested
    class Broken_text {
        @Test
        void an_empty_file() {
            String expected = "x.yaml:1:1: the file is empty; expected a spec";

            assertThat(problems("")).isEqualTo(expected);
            assertThat(problems("# only a remark\n")).isEqualTo(expected);
            assertThat(problems("\uFEFF")).isEqualTo(expected);
        }

        @Test
        void a_file_that_is_a_list_or_a_word() {
            assertThat(problems("- a\n- b\n"))
                    .isEqualTo(
                            "x.yaml:1:1: a spec is a list; expected a spec: keys with their values, such as 'version: 1'");
            assertThat(problems("hello\n"))
                    .isEqualTo(
                            "x.yaml:1:1: a spec is the text 'hello'; expected a spec: keys with their values, such as"
                                    + " 'version: 1'");
        }

        @Test
        void a_tab_for_indentation() {
            assertThat(problems("a:\n\tb: 1\n"))
                    .isEqualTo("x.yaml:2:1: not valid YAML: a tab; expected spaces for indentation");
        }

        @Test
        void a_colon_in_plain_text() {
            assertThat(problems("title: Tarn: the drive\n"))
                    .isEqualTo(
                            "x.yaml:1:12: not valid YAML: a ':' stands where no key can be; expected one 'key: value' a"
                                    + " line, or quotes around text that has a ': ' in it");
        }

        @Test
        void a_bracket_left_open() {
            assertThat(problems("a: [1, 2\nb: 3\n"))
                    .isEqualTo("x.yaml:2:2: not valid YAML: a list in [ ] is not closed here; expected ',' or ']'");
        }

        @Test
        void keys_that_do_not_line_up() {
            assertThat(problems("a:\n    b: 1\n  c: 2\n"))
                    .isEqualTo(
                            "x.yaml:3:3: not valid YAML: this does not line up with what stands above; expected the same"
                                    + " indentation for the keys of one mapping and the items of one list");
        }

        @Test
        void a_quote_left_open() {
            assertThat(problems("a: 'never closed\n"))
                    .isEqualTo("x.yaml:2:1: not valid YAML: a quoted text is not closed before the end of the file");
        }

        @Test
        void a_zero_byte() {
            assertThat(problems("a: 1\nb: \0\n"))
                    .isEqualTo("x.yaml:2:4: control character a zero byte: this is no text; expected printable text");
        }

        @Test
        void a_control_character() {
            assertThat(problems("a: \u0007\n"))
                    .isEqualTo("x.yaml:1:4: control character U+0007; expected printable text");
        }
    }

    @Test
    void a_byte_order_mark_is_no_part_of_the_first_key() {
        assertThat(problems("\uFEFFa: 1\n")).isEmpty();
    }

    @Test
    void words_of_older_yaml_stay_words() {
        var problems = new Problems("x.yaml");
        var table = Yaml.read(
                TextFile.of("x.yaml", "a: on\nb: 010\nc: 1:30\nd: 2026-01-01\ne: 2..6\nf: no\n"), problems, "a spec");

        assertThat(table.keys()).containsExactly("a", "b", "c", "d", "e", "f");
        assertThat(table.find("a").flatMap(n -> n.text("text"))).contains("on");
        assertThat(table.find("b").flatMap(n -> n.whole(0, 100))).contains(10);
        assertThat(table.find("c").flatMap(n -> n.text("text"))).contains("1:30");
        assertThat(table.find("d").flatMap(n -> n.text("text"))).contains("2026-01-01");
        assertThat(table.find("e").flatMap(n -> n.text("text"))).contains("2..6");
        assertThat(table.find("f").flatMap(n -> n.text("text"))).contains("no");
    }
}
