// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Duration;
import java.util.List;
import millrace.PostgresServer;
import millrace.time.SystemClock;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.postgresql.PGConnection;

/**
 * How fast runs are published, beside the server's own bulk copy of the same rows into the same
 * tables. Figures go to a file: no time is asserted.
 */
@Tag("campaign")
class StoreBenchmarkIT {
  private static final List<String> TABLES = List.of("point", "reading");

  private final PostgresServer server = PostgresServer.get();
  private final SystemClock clock = new SystemClock();
  @TempDir private Path folder;

  private static Connection connect(String store) {
    return PostgresConnections.open(new PostgresStore(StoreAddress.of(store)), false);
  }

  private void copyOut(String store) throws SQLException, IOException {
    try (Connection from = connect(store)) {
      for (String table : TABLES) {
        try (OutputStream out = Files.newOutputStream(folder.resolve(table))) {
          from.unwrap(PGConnection.class)
              .getCopyAPI()
              .copyOut("COPY (SELECT * FROM " + table + ") TO STDOUT", out);
        }
      }
    }
  }

  /** The rows alone, in one transaction, into tables that have their partitions. */
  private Duration copyIn(String store) throws SQLException, IOException {
    try (Connection into = connect(store)) {
      try (var statement = into.createStatement()) {
        statement.execute("SELECT open_month(DATE '2026-11-01')");
      }
      into.commit();
      Duration began = clock.elapsed();
      for (String table : TABLES) {
        try (InputStream in = Files.newInputStream(folder.resolve(table))) {
          into.unwrap(PGConnection.class).getCopyAPI().copyIn("COPY " + table + " FROM STDIN", in);
        }
      }
      into.commit();
      return clock.elapsed().minus(began);
    }
  }

  private Duration publish(Path logbook, String address) {
    try (Logbook book = Logbook.readOnly(logbook);
        SharedStore store = SharedStore.at(StoreAddress.of(address))) {
      List<RunSummary> runs = book.runs(RunFilter.ALL);
      Duration began = clock.elapsed();
      for (RunSummary run : runs) {
        assertEquals(SharedStore.Outcome.SENT, store.publish(book, run));
      }
      return clock.elapsed().minus(began);
    }
  }

  @Test
  @Timeout(3600)
  void publishingBesideCopying() throws SQLException, IOException {
    int runs = Integer.getInteger("millrace.store.runs", 1000);
    Path logbook = folder.resolve("a.db");
    BenchRuns.write(logbook, runs, 500);
    String first = server.store();
    Duration published = publish(logbook, first);
    copyOut(first);
    Duration copied = copyIn(server.store());
    String line =
        "%s runs of 5000 readings: published in %s, the rows copied in %s, ratio of speeds %s%n"
            .formatted(runs, published, copied, (double) copied.toNanos() / published.toNanos());
    Files.writeString(
        Files.createDirectories(Path.of("target", "benchmarks")).resolve("publish.txt"), line);
  }
}
