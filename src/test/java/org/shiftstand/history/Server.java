package org.shiftstand.history;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.awaitility.Awaitility;
import org.jspecify.annotations.Nullable;

/** A real PostgreSQL server in a folder, which can be killed and started again on the same data. */
final class Server implements AutoCloseable {
    static {
        quiet();
    }

    private final EmbeddedPostgres first;
    private final Path data;
    private final String program;
    private @Nullable Process again;

    private Server(EmbeddedPostgres first, Path data, String program) {
        this.first = first;
        this.data = data;
        this.program = program;
    }

    /** What server and migrations log would drown what tests tell. */
    static void quiet() {
        if (org.slf4j.LoggerFactory.getLogger("ROOT") instanceof ch.qos.logback.classic.Logger root) {
            root.setLevel(ch.qos.logback.classic.Level.OFF);
        }
    }

    static Server start(Path folder) throws IOException {
        Path data = folder.resolve("data");
        EmbeddedPostgres postgres = EmbeddedPostgres.builder()
                .setDataDirectory(data)
                // as a server for real work is set; the library's usual setting loses commits when it is killed
                .setServerConfig("fsync", "on")
                .setServerConfig("synchronous_commit", "on")
                .setServerConfig("full_page_writes", "on")
                .setOverrideWorkingDirectory(folder.resolve("binaries").toFile())
                .start();
        String program = ProcessHandle.of(pid(data))
                .flatMap(handle -> handle.info().command())
                .orElseThrow();
        return new Server(postgres, data, program);
    }

    private static long pid(Path data) throws IOException {
        return Long.parseLong(
                Files.readAllLines(data.resolve("postmaster.pid")).get(0).strip());
    }

    int port() {
        return first.getPort();
    }

    Database database() {
        return Database.of("jdbc:postgresql://localhost:" + port() + "/postgres", "postgres", "");
    }

    /** As a power cut would: nothing is told, nothing is written any more. */
    void kill() throws IOException, InterruptedException {
        ProcessHandle server = ProcessHandle.of(pid(data)).orElseThrow();
        List<ProcessHandle> children = server.descendants().toList();
        server.destroyForcibly();
        children.forEach(ProcessHandle::destroyForcibly);
        Awaitility.await().atMost(20, TimeUnit.SECONDS).until(() -> !server.isAlive() && !answers());
    }

    void startAgain() throws IOException {
        List<String> command = new ArrayList<>();
        if (System.getProperty("user.name").equals("root")) {
            command.addAll(List.of("unshare", "-U")); // the server refuses to be root
        }
        command.addAll(List.of(program, "-D", data.toString(), "-p", Integer.toString(port())));
        again = new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(data.resolveSibling("again.log").toFile())
                .start();
        Awaitility.await().atMost(60, TimeUnit.SECONDS).until(this::answers);
    }

    private boolean answers() {
        try (Connection connection =
                DriverManager.getConnection(database().url() + "?user=postgres&connectTimeout=2")) {
            return connection.isValid(2);
        } catch (SQLException e) {
            return false;
        }
    }

    @Override
    public void close() throws IOException {
        Process second = again;
        if (second != null) {
            second.destroy();
        }
        first.close();
    }
}
