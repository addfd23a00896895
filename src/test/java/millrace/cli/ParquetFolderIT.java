// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Properties;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import millrace.Needs;
import millrace.document.csv.CsvFile;
import millrace.logbook.BenchRuns;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Runs of a bench, of a simulated bench and of a file as Parquet files, read again by SQL in DuckDB
 * (an engine with a reader of its own, not the one that wrote) and held against the same runs as
 * linked tables.
 */
@Timeout(180)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class ParquetFolderIT {
  @TempDir private static Path folder;
  private Spoken told = new Spoken(-1, "", "");

  private static Spoken millrace(String... words) {
    List<String> all = new ArrayList<>(List.of(words));
    all.addAll(List.of("--logbook", folder.resolve("a.db").toString()));
    return Spoken.by(all.toArray(String[]::new));
  }

  private static Path files() {
    return folder.resolve("files");
  }

  @BeforeAll
  void exportRunsOfThreeOrigins() {
    Path book = folder.resolve("a.db");
    simulated("FX3-00041");
    BenchRuns.asIfReal(book);
    Spoken.importExample(book.toString());
    simulated("FX3-00042");
    told = millrace("export", "--all", "--parquet", files().toString());
    assertEquals(0, told.code(), told.err());
    assertEquals(
        0, millrace("export", "--all", "--tables", folder.resolve("tables").toString()).code());
  }

  private static void simulated(String unit) {
    Spoken run =
        millrace(
            "run",
            "sequences/quick-look.yaml",
            "--unit",
            unit,
            "--datasheet",
            "examples/fx-3.datasheet.yaml",
            "--simulated",
            "--batch",
            "B 7/ä");
    assertEquals(0, run.code(), run.err());
  }

  /** Nothing is fetched by the engine, and times come as instants in UTC. */
  private static Connection engine() throws SQLException {
    Optional<java.sql.Driver> driver =
        DriverManager.drivers().filter(ParquetFolderIT::knows).findFirst();
    Needs.that(
        driver.isPresent(),
        "DuckDB is not among the libraries; 'mvn verify -Pengines' fetches it (80 MB)");
    Properties alone = new Properties();
    alone.setProperty("autoinstall_known_extensions", "false");
    alone.setProperty("autoload_known_extensions", "false");
    return DriverManager.getConnection("jdbc:duckdb:", alone);
  }

  private static boolean knows(java.sql.Driver driver) {
    try {
      return driver.acceptsURL("jdbc:duckdb:");
    } catch (SQLException e) {
      return false;
    }
  }

  private static String all(String table) {
    return "read_parquet('%s/%s/**/*.parquet', hive_partitioning = true)".formatted(files(), table);
  }

  private static List<Map<String, Object>> rows(String query) throws SQLException {
    try (Connection engine = engine();
        Statement statement = engine.createStatement();
        ResultSet found = statement.executeQuery(query)) {
      List<Map<String, Object>> rows = new ArrayList<>();
      while (found.next()) {
        Map<String, Object> row = new LinkedHashMap<>();
        for (int i = 1; i <= found.getMetaData().getColumnCount(); i++) {
          row.put(found.getMetaData().getColumnLabel(i), found.getObject(i));
        }
        rows.add(row);
      }
      return rows;
    }
  }

  private static List<Map<String, String>> linked(String table) {
    List<Map<String, String>> rows = new ArrayList<>();
    try (CsvFile csv = CsvFile.open(folder.resolve("tables/" + table + ".csv"))) {
      while (csv.next()) {
        Map<String, String> row = new LinkedHashMap<>();
        for (int i = 0; i < csv.header().size(); i++) {
          row.put(csv.header().get(i), csv.field(i));
        }
        rows.add(row);
      }
      csv.throwIfAny();
    }
    return rows;
  }

  /** To the bit: linked tables hold the shortest decimals that give the same double again. */
  @ParameterizedTest
  @ValueSource(strings = {"runs", "points", "readings", "results"})
  void anotherEngineReadsEveryCellToTheBit(String table) throws SQLException {
    Map<String, String> uuids = new LinkedHashMap<>();
    linked("runs").forEach(run -> uuids.put(run.get("run"), run.get("run_uuid")));
    assertEquals(3, uuids.size());
    int cells = 0;
    for (Map.Entry<String, String> run : uuids.entrySet()) {
      List<Map<String, String>> expected =
          linked(table).stream().filter(row -> row.get("run").equals(run.getKey())).toList();
      List<Map<String, Object>> found =
          rows("SELECT * FROM " + all(table) + " WHERE run_uuid = '" + run.getValue() + "'");
      assertEquals(expected.size(), found.size());
      for (int i = 0; i < expected.size(); i++) {
        cells += same(expected.get(i), found.get(i));
      }
    }
    assertTrue(cells > 50, "cells: " + cells);
    long all = (Long) rows("SELECT count(*) AS n FROM " + all(table)).get(0).get("n");
    assertEquals(linked(table).size(), all);
  }

  private static int same(Map<String, String> expected, Map<String, Object> found) {
    int cells = 0;
    for (Map.Entry<String, String> cell : expected.entrySet()) {
      if (!cell.getKey().equals("run")) {
        assertTrue(found.containsKey(cell.getKey()), cell.getKey());
        Object value = found.get(cell.getKey());
        String where = cell.getKey() + " of " + expected;
        if (cell.getValue().isEmpty()) {
          assertEquals(null, value, where);
        } else if (value instanceof Double number) {
          assertEquals(
              Double.doubleToRawLongBits(Double.parseDouble(cell.getValue())),
              Double.doubleToRawLongBits(number),
              where);
        } else if (value instanceof OffsetDateTime time) {
          assertEquals(
              Instant.parse(cell.getValue()).truncatedTo(ChronoUnit.MICROS),
              time.toInstant(),
              where);
        } else {
          assertEquals(cell.getValue(), String.valueOf(value), where);
        }
        cells++;
      }
    }
    return cells;
  }

  @Test
  void simulatedRunsShareNoFileWithOthersAndEachFileSaysSo() throws Exception {
    Set<String> shared = new TreeSet<>();
    try (Stream<Path> walked = Files.walk(files())) {
      for (Path file : walked.filter(Files::isRegularFile).toList()) {
        String origin = file.getParent().getFileName().toString().replace("origin=", "");
        List<Map<String, Object>> rows =
            rows("SELECT DISTINCT origin FROM read_parquet('%s')".formatted(file));
        assertTrue(rows.stream().allMatch(r -> origin.equals(r.get("origin"))), rows.toString());
        String said =
            "SELECT decode(value) AS said FROM parquet_kv_metadata('%s')"
                + " WHERE decode(key) = 'millrace.origin'";
        assertEquals(origin, rows(said.formatted(file)).get(0).get("said"));
        shared.add(origin);
      }
    }
    assertEquals(Set.of("bench", "imported", "simulated"), shared);
  }

  @Test
  void columnsHaveTypesAndAMonthIsThatOfTheRun() throws SQLException {
    List<Map<String, Object>> found =
        rows(
            "SELECT DISTINCT month, strftime(timezone('UTC', run_started_at), '%Y-%m') AS began"
                + " FROM "
                + all("results")
                + " WHERE run_started_at IS NOT NULL");
    assertFalse(found.isEmpty());
    found.forEach(row -> assertEquals(row.get("began"), row.get("month")));
    Map<String, String> types = new LinkedHashMap<>();
    for (Map<String, Object> column : rows("DESCRIBE SELECT * FROM " + all("points"))) {
      types.put(
          String.valueOf(column.get("column_name")), String.valueOf(column.get("column_type")));
    }
    assertEquals("VARCHAR", types.get("run_uuid"));
    assertEquals("TIMESTAMP WITH TIME ZONE", types.get("run_started_at"));
    assertEquals("DOUBLE", types.get("current_A"));
    assertEquals("BIGINT", types.get("nth"));
  }

  @Test
  void anythingThatIsThereStaysAsItIs() throws IOException {
    Path there = Files.createDirectory(folder.resolve("there"));
    Files.writeString(there.resolve("mine.txt"), "mine");
    Spoken refused = millrace("export", "1", "--parquet", there.toString());
    assertEquals(
        "millrace: "
            + there
            + ": there is something of this name already; expected the name of a new folder. Name"
            + " another one with --parquet.\n",
        refused.err());
    assertEquals(2, refused.code());
    assertEquals("mine", Files.readString(there.resolve("mine.txt")));
    assertEquals(2, millrace("export", "--parquet", folder.resolve("x").toString()).code());
    assertEquals(2, millrace("export", "1", "--all").code());
    Spoken both = millrace("export", "1", "--all", "--parquet", folder.resolve("x").toString());
    assertTrue(both.err().contains("--all takes every run; expected neither RUN nor --batch"));
    Spoken two = millrace("export", "2", "3", "--parquet", folder.resolve("two").toString());
    assertTrue(two.err().contains(" of 2 runs to "), two.err());
  }

  @Test
  void nothingIsSaidButHowMuchWasWritten() {
    assertTrue(
        told.err().matches("Exported [0-9]+ rows of 3 runs to .*\\.\n(millrace: .*\n)*"),
        told.err());
    assertEquals("", told.out());
  }
}
