package org.shiftstand.fuzz;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.cli.Cli;
import org.shiftstand.cli.Commands;
import org.shiftstand.document.BadInput;
import org.shiftstand.judge.Judge;
import org.shiftstand.judge.JudgeCase;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Measurement;
import org.shiftstand.judge.Measuring;
import org.shiftstand.judge.Named;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.record.RunEvent;
import org.shiftstand.record.RunRecord;
import org.shiftstand.record.SqliteRunWriter;
import org.shiftstand.report.ResultJson;
import org.shiftstand.report.ShiftCsv;
import org.shiftstand.shift.ShiftTable;

/** Damaged run records: refused in clear words, or read with the same numbers wherever the damage is not. */
@Timeout(3600)
class DamagedRecordTest {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");

    @TempDir
    private static Path base;

    private static Path finished = Path.of("");
    private static Path crashed = Path.of("");
    private static List<String> blocks = List.of();

    @TempDir
    private Path folder;

    @BeforeAll
    static void record() throws IOException, SQLException {
        Path procedure = Files.writeString(base.resolve("few.yaml"), """
                procedure: few
                version: 1
                sample-rate: 512 Hz
                steps:
                  - supply: 8.2 V
                  - home: {}
                  - sweep: { from: 1, to: last, and-back: true, times: 2, rest: 350 ms }
                """);
        Cli.Result checked = Commands.run(
                "check",
                "--rig",
                "sim:seed=7",
                "--procedure",
                procedure.toString(),
                "--spec",
                "tarn-drive-end-of-line",
                "--unit",
                "TD-0107",
                "--out",
                base.resolve("out").toString());
        try (Stream<Path> files = Files.walk(base.resolve("out"))) {
            finished = files.filter(file -> file.toString().endsWith(".run"))
                    .findFirst()
                    .orElseThrow(() -> new AssertionError(checked.err()));
        }
        try (RunRecord record = RunRecord.open(finished)) {
            blocks = blocks(record);
        }
        crashed = crashed(finished, base.resolve("crashed.run"));
    }

    @Test
    void rows_changed_in_a_finished_record() {
        ShiftTable sound = table(finished);

        Fuzz.rounds("rows of a record", 60, random -> {
            Path file = Files.copy(finished, folder.resolve("changed.run"), StandardCopyOption.REPLACE_EXISTING);
            RecordDamage damage = RecordDamage.inflict(file, random);
            try (RunRecord record = RunRecord.open(file)) {
                Measurement measured = Measuring.measure(record, Optional.of(TARN), JudgeOptions.defaults());
                if (!damage.everywhere()) {
                    List<String> wrong = Untouched.compare(
                            record.timeS(damage.fromMicros()) - 0.13, // a block before: what ends in it is cut
                            record.timeS(damage.toMicros()) + 0.13,
                            false,
                            sound,
                            measured.table());
                    if (!wrong.isEmpty()) {
                        throw new AssertionError(damage.kind() + " from " + record.timeS(damage.fromMicros()) + " s to "
                                + record.timeS(damage.toMicros()) + " s: " + wrong.size() + " "
                                + wrong.stream().limit(3).toList());
                    }
                }
                judged(file);
                return "read: " + damage.kind();
            } catch (BadInput e) {
                assertThat(e.problems())
                        .isNotEmpty()
                        .allSatisfy(problem -> assertThat(problem.text()).isNotBlank());
                return "refused: " + damage.kind();
            }
        });
    }

    /** Judging and both renderings end in words or in valid numbers. */
    private static void judged(Path file) throws IOException {
        try (JudgeInput input = JudgeInput.open(file, CsvOptions.usual())) {
            JudgeCase its = input.assemble(Named.nothing(), JudgeOptions.defaults());
            var json = new ByteArrayOutputStream();
            var judged = Judge.judge(input.source(), its.spec(), its.profile(), its.options());
            ResultJson.write(judged.judgement(), json);
            var csv = new StringBuilder();
            ShiftCsv.write(judged.judgement().table(), csv);
            assertThat(csv + json.toString(StandardCharsets.UTF_8)).doesNotContain("NaN", "Infinity");
        }
    }

    @Test
    void bytes_changed_in_a_finished_record() throws IOException {
        byte[] sound = Files.readAllBytes(finished);
        List<String> words = List.of("SQLite format 3\0", "STRICT", "\0\0\0\0", "hall-on", "request", "CREATE TABLE");

        Fuzz.rounds("bytes of a record", 40, random -> {
            Path file = Files.write(folder.resolve("bytes.run"), Bytes.mutated(sound, random, words));
            return opened(file, false);
        });
    }

    @Test
    void the_log_beside_a_crashed_record_changed_cut_or_exchanged() throws IOException {
        byte[] log = Files.readAllBytes(beside(crashed));

        Fuzz.rounds("log of a crashed record", 40, random -> {
            Path file = Files.copy(crashed, folder.resolve("crashed.run"), StandardCopyOption.REPLACE_EXISTING);
            Files.deleteIfExists(file.resolveSibling("crashed.run-shm"));
            Files.write(beside(file), log(log, random));
            return opened(file, true);
        });
    }

    private static byte[] log(byte[] log, Random random) {
        return switch (random.nextInt(6)) {
            case 0 -> Arrays.copyOf(log, random.nextInt(log.length));
            case 1 -> Bytes.mutated(log, random, List.of("\0\0\0\0"));
            case 2 -> Arrays.copyOf(log, log.length + random.nextInt(10_000)); // zeroes behind it
            case 3 -> {
                byte[] page = log.clone();
                int at = random.nextInt(log.length);
                Arrays.fill(page, at, Math.min(log.length, at + 4096), (byte) random.nextInt(256));
                yield page;
            }
            case 4 -> {
                byte[] noise = new byte[random.nextInt(20_000)];
                random.nextBytes(noise);
                yield noise;
            }
            default -> {
                byte[] flipped = log.clone();
                flipped[random.nextInt(log.length)] ^= (byte) (1 << random.nextInt(8));
                yield flipped;
            }
        };
    }

    /** Refused, or only blocks that were written, each whole; of a crashed record those up to where its log ends. */
    private static String opened(Path file, boolean prefix) throws IOException {
        try (RunRecord record = RunRecord.open(file)) {
            Measuring.measure(record, Optional.of(TARN), JudgeOptions.defaults());
            List<String> read = blocks(record);
            if (prefix) {
                assertThat(read).isEqualTo(blocks.subList(0, Math.min(read.size(), blocks.size())));
            } else if (record.notices().isEmpty()) {
                assertThat(read).isEqualTo(blocks);
            }
            assertThat(blocks).containsAll(read);
            judged(file);
            return "read";
        } catch (BadInput e) {
            assertThat(e.problems())
                    .isNotEmpty()
                    .allSatisfy(problem -> assertThat(problem.text()).isNotBlank());
            return "refused";
        }
    }

    private static ShiftTable table(Path file) {
        try (RunRecord record = RunRecord.open(file)) {
            return Measuring.measure(record, Optional.of(TARN), JudgeOptions.defaults())
                    .table();
        }
    }

    /** Every block that a record's reader gives: 64 samples each, the last of a run fewer. */
    private static List<String> blocks(RunRecord record) {
        List<String> blocks = new ArrayList<>();
        SampleBlock block = new SampleBlock(64);
        try (SampleReader reader = record.open()) {
            while (reader.next(block)) {
                StringBuilder text = new StringBuilder();
                for (int i = 0; i < block.size(); i++) {
                    text.append((int) block.hallSin[i])
                            .append(',')
                            .append((int) block.hallCos[i])
                            .append(',')
                            .append(block.currentA[i])
                            .append(';');
                }
                blocks.add(text.toString());
            }
        }
        return blocks;
    }

    /** The same run as a program leaves it that is killed before it has finished: file and log. */
    private static Path crashed(Path whole, Path file) throws IOException, SQLException {
        Path running = file.resolveSibling("running.run");
        try (RunRecord record = RunRecord.open(whole);
                SqliteRunWriter writer = SqliteRunWriter.create(running, record.header());
                Connection connection = DriverManager.getConnection("jdbc:sqlite:" + whole);
                Statement sql = connection.createStatement();
                ResultSet rows = sql.executeQuery(
                        "SELECT number, first_micros, interval_nanos, samples FROM block ORDER BY seq")) {
            Iterator<RunEvent> events = record.events().iterator();
            while (rows.next()) {
                short[] samples = new short[rows.getBytes(4).length / 2];
                ByteBuffer.wrap(rows.getBytes(4))
                        .order(ByteOrder.LITTLE_ENDIAN)
                        .asShortBuffer()
                        .get(samples);
                writer.block(rows.getLong(1), rows.getLong(2), rows.getLong(3), samples);
                if (events.hasNext()) {
                    writer.event(events.next());
                }
            }
            Files.copy(running, file);
            Files.copy(beside(running), beside(file));
        }
        return file;
    }

    private static Path beside(Path file) {
        return file.resolveSibling(file.getFileName() + "-wal");
    }
}
