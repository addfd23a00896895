// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import millrace.PostgresServer;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.postgresql.PGConnection;
import org.postgresql.copy.CopyManager;

/**
 * How fast runs are published, beside the server's own bulk copy of the same rows into the same
 * tables; both in turn, a few runs at a time, so that both meet the same machine. Figures go to a
 * file: no time is asserted.
 */
class StoreBenchmarkIT {
  private static final List<String> TABLES = List.of("point", "reading");

  /** Runs that are copied at once. */
  private static final int BLOCK = 10;

  private final PostgresServer server = PostgresServer.get();
  @TempDir private Path folder;

  private static Connection connect(String store) {
    return PostgresConnections.open(new PostgresStore(StoreAddress.of(store)), false);
  }

  private static CopyManager copying(Connection connection) throws SQLException {
    return connection.unwrap(PGConnection.class).getCopyAPI();
  }

  private static void openMonth(Connection store) throws SQLException {
    try (Statement statement = store.createStatement()) {
      statement.execute("SELECT open_month(DATE '2026-11-01')");
    }
    store.commit();
  }

  /** The rows of some runs as text, table by table. */
  private static List<byte[]> rows(Connection from, List<RunSummary> runs)
      throws SQLException, IOException {
    String uuids =
        runs.stream().map(r -> "'" + r.uuid() + "'::uuid").collect(Collectors.joining(", "));
    List<byte[]> rows = new ArrayList<>();
    for (String table : TABLES) {
      ByteArrayOutputStream out = new ByteArrayOutputStream();
      copying(from)
          .copyOut(
              "COPY (SELECT * FROM %s WHERE run_uuid IN (%s)) TO STDOUT".formatted(table, uuids),
              out);
      rows.add(out.toByteArray());
    }
    from.commit();
    return rows;
  }

  private static void copyIn(Connection into, List<byte[]> rows) throws SQLException, IOException {
    for (int i = 0; i < TABLES.size(); i++) {
      copying(into)
          .copyIn("COPY " + TABLES.get(i) + " FROM STDIN", new ByteArrayInputStream(rows.get(i)));
    }
    into.commit();
  }

  private void measure(int runs, int readings) throws SQLException, IOException {
    Path logbook = folder.resolve("a.db");
    BenchRuns.write(logbook, runs, readings);
    StoreAddress address = StoreAddress.of(server.store());
    BenchmarkedTime published = new BenchmarkedTime(server::processorS);
    BenchmarkedTime copied = new BenchmarkedTime(server::processorS);
    try (Logbook book = Logbook.readOnly(logbook);
        SharedStore store = SharedStore.at(address);
        Connection from = connect(address.toString());
        Connection into = connect(server.store())) {
      openMonth(into);
      List<RunSummary> all = book.runs(RunFilter.ALL);
      for (int i = 0; i < all.size(); i += BLOCK) {
        List<RunSummary> some = all.subList(i, Math.min(all.size(), i + BLOCK));
        published.add(
            () ->
                some.forEach(r -> assertEquals(SharedStore.Outcome.SENT, store.publish(book, r))));
        List<byte[]> rows = rows(from, some);
        copied.add(() -> copyIn(into, rows));
      }
    }
    write(
        "publish-%s.txt".formatted(runs),
        "%s runs of %s readings published: %s%nthe same rows copied: %s%n"
                .formatted(runs, 10 * readings, published, copied)
            + "publishing takes %s of copying%n".formatted(published.over(copied)));
  }

  private static void write(String name, String text) throws IOException {
    Files.writeString(
        Files.createDirectories(Path.of("target", "benchmarks")).resolve(name),
        text,
        StandardCharsets.UTF_8);
  }

  @Test
  void publishingAFewBesideCopying() throws SQLException, IOException {
    measure(3, 10);
  }

  @Test
  @Tag("campaign")
  @Timeout(3600)
  void publishingBesideCopying() throws SQLException, IOException {
    measure(Integer.getInteger("millrace.store.runs", 1000), 500);
  }
}
