// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import millrace.Needs;
import millrace.PostgresServer;
import millrace.cli.BalancedGroups.Group;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * Yield, capability and components of variance of boards of a model: by {@code compare} over one
 * store; over two PostgreSQL servers that one table joins; over Parquet files, by Apache Spark with
 * two processes that share the work. All agree to 1e-9. {@code -Dmillrace.boards} says how many
 * boards, a multiple of 80.
 */
@Tag("scale")
@Timeout(7200)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class ScaleIT {
  private static final int BOARDS = Integer.getInteger("millrace.boards", 400);
  private static final Path SCALE = Path.of("src/scale");
  private static final Path SPARK = Path.of("target/scale");
  private static final double NEAR = 1e-9;
  private static final String TEMPLATE =
      """
      unit,batch,range,nominal_A,current_A,temperature_degC,load_ohm,terminal_voltage_V
      FX3-99999,template,1mA,0.001,0.000999975275,23.0,1000,1.0
      FX3-99999,template,1mA,0.001,0.0009999770926,23.0,1000,1.0
      """;

  private static final List<String> OPENED =
      List.of(
          "java.lang",
          "java.lang.invoke",
          "java.lang.reflect",
          "java.io",
          "java.net",
          "java.nio",
          "java.util",
          "java.util.concurrent",
          "java.util.concurrent.atomic",
          "sun.nio.ch",
          "sun.nio.cs",
          "sun.security.action",
          "sun.util.calendar");

  @TempDir private static Path folder;
  private final Map<String, Long> milliseconds = new TreeMap<>();
  private PostgresServer server;
  private String whole = "";
  private JsonNode compared = new ObjectMapper().nullNode();

  @BeforeAll
  void makeBoardsAndCompareThem() throws IOException {
    server = PostgresServer.get();
    whole = server.store();
    fill(server, whole, "0, 1, 2, 3, 4, 5, 6, 7");
    List<String> words =
        List.of("compare", "--tag", "scale", "--by", "bench,batch", "--all", "--json", "--from");
    Spoken said =
        timed(
            "compare --from one store",
            () ->
                Spoken.by(Stream.concat(words.stream(), Stream.of(whole)).toArray(String[]::new)));
    compared = new ObjectMapper().readTree(said.out());
    assertEquals(BOARDS, compared.at("/yields/0/first_pass/of").asInt(), said.err());
  }

  /** Something that is timed. */
  private interface Work<T> {
    T done() throws IOException;
  }

  private <T> T timed(String what, Work<T> work) throws IOException {
    long began = System.nanoTime();
    T made = work.done();
    milliseconds.put(what, TimeUnit.NANOSECONDS.toMillis(System.nanoTime() - began));
    Path out = Files.createDirectories(Path.of("target", "verification"));
    Files.writeString(
        out.resolve("scale-" + BOARDS + ".txt"),
        milliseconds.entrySet().stream()
            .map(e -> e.getKey() + ": " + e.getValue() + " ms\n")
            .collect(Collectors.joining()));
    return made;
  }

  private static String database(String store) {
    return store.replaceAll(".*/|[?].*", "");
  }

  private void fill(PostgresServer at, String store, String benches) throws IOException {
    Path csv = Files.writeString(folder.resolve("template.csv"), TEMPLATE);
    String book = folder.resolve("template.db").toString();
    if (!Files.exists(Path.of(book))) {
      Spoken.done(
          "import",
          csv.toString(),
          "--datasheet",
          "examples/fx-3.datasheet.yaml",
          "--logbook",
          book);
      Spoken.by("analyze", "1", "--logbook", book);
    }
    Spoken.done("publish", "--all", "--to", store, "--logbook", book);
    String sql =
        Files.readString(SCALE.resolve("boards.sql"))
            .replace("OF_BENCH", benches)
            .replace("FIRST", "1")
            .replace("LAST", String.valueOf(BOARDS));
    at.sql(database(store), "SET search_path = millrace, pg_catalog;\n" + sql);
  }

  private static String query(String file, String site) throws IOException {
    return Files.readString(SCALE.resolve(file)).replace("SITE ", site);
  }

  @Test
  void twoServersThatOneTableJoinsGiveTheSame() throws IOException {
    PostgresServer second = PostgresServer.another();
    String north = server.store();
    String south = second.store();
    fill(server, north, "0, 1, 2, 3");
    fill(second, south, "4, 5, 6, 7");
    site(server, north, "north");
    site(second, south, "south");
    String front = database(server.database());
    server.sql(
        front,
        Files.readString(SCALE.resolve("joined.sql"))
            .replace("HOST", "127.0.0.1")
            .replace("NORTH_PORT", String.valueOf(server.port()))
            .replace("SOUTH_PORT", String.valueOf(second.port()))
            .replace("NORTH_DATABASE", database(north))
            .replace("SOUTH_DATABASE", database(south))
            .replace("READER", "joined_reader")
            .replace("PASSWORD", "keeper"));
    String groups = "SET enable_partitionwise_aggregate = on;\n" + query("groups.sql", "site, ");
    List<String> rows =
        timed(
            "two servers joined, groups",
            () -> server.sql(front, groups).lines().filter(l -> l.contains("|")).toList());
    String passed = query("yield.sql", "");
    String yield = timed("two servers joined, yield", () -> server.sql(front, passed).strip());
    assertSame(rows.stream().map(r -> Group.of(r, "[|]")).toList(), yield.split("[|]"));
    String plan = server.sql(front, groups.replace("SELECT quantity", "EXPLAIN SELECT quantity"));
    assertEquals(2, plan.lines().filter(l -> l.contains("Foreign Scan")).count(), plan);
    assertThrows(
        IllegalStateException.class,
        () -> server.sql(front, "INSERT INTO judged (site, unit) VALUES ('north', 'FX3-00001')"));
  }

  private static void site(PostgresServer at, String store, String name) throws IOException {
    at.sql(
        database(store),
        "CREATE ROLE joined_reader LOGIN PASSWORD 'keeper' IN ROLE millrace_reader;\n"
            + Files.readString(SCALE.resolve("site.sql")).replace("'SITE'", "'" + name + "'"));
    at.sql("postgres", "GRANT CONNECT ON DATABASE " + database(store) + " TO joined_reader");
  }

  @Test
  void anotherEngineOverParquetFilesGivesTheSame() throws IOException {
    Needs.that(
        Files.isDirectory(SPARK.resolve("jars")),
        "Apache Spark is not there; 'mvn test -Pscale' fetches it (280 MB)");
    Path files = folder.resolve("files");
    timed(
        "export --parquet",
        () -> Spoken.done("export", "--all", "--parquet", files.toString(), "--from", whole));
    Path groups = Files.writeString(folder.resolve("groups.sql"), query("groups.sql", ""));
    Path yield = Files.writeString(folder.resolve("yield.sql"), query("yield.sql", ""));
    String said = timed("Spark, with its start", () -> spark(files, groups, yield));
    String[] answers = said.split("\n\n");
    assertSame(
        answers[0].lines().map(r -> Group.of(r, "\t")).toList(), answers[1].strip().split("\t"));
  }

  private String spark(Path files, Path... queries) throws IOException {
    List<String> words = new ArrayList<>();
    words.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    OPENED.forEach(p -> words.add("--add-opens=java.base/" + p + "=ALL-UNNAMED"));
    words.addAll(
        List.of(
            "-XX:TieredStopAtLevel=1",
            "-XX:+UseSerialGC",
            "-Xmx1g",
            "-cp",
            SPARK.resolve("jars") + File.separator + "*"));
    words.addAll(List.of(SCALE.resolve("ColumnarSums.java").toString(), "local-cluster[2,1,1024]"));
    words.add(files.toString());
    Stream.of(queries).forEach(q -> words.add(q.toString()));
    Path log = folder.resolve("spark.log");
    ProcessBuilder builder = new ProcessBuilder(words).redirectError(log.toFile());
    builder.environment().put("SPARK_HOME", SPARK.toAbsolutePath().toString());
    builder.environment().put("SPARK_SCALA_VERSION", "2.13");
    builder.environment().put("SPARK_LOCAL_IP", "127.0.0.1");
    Process process = builder.start();
    process.getOutputStream().close();
    String said = new String(process.getInputStream().readAllBytes());
    try {
      assertEquals(0, process.waitFor(), () -> end(log));
    } catch (InterruptedException e) {
      process.destroyForcibly();
      Thread.currentThread().interrupt();
    }
    return said;
  }

  private static String end(Path log) {
    try {
      List<String> lines = Files.readAllLines(log);
      return String.join("\n", lines.subList(Math.max(0, lines.size() - 60), lines.size()));
    } catch (IOException e) {
      return e.toString();
    }
  }

  private void assertSame(List<Group> groups, String[] yield) {
    assertEquals(compared.at("/yields/0/first_pass/of").asText(), yield[0]);
    assertEquals(compared.at("/yields/0/first_pass/count").asText(), yield[1]);
    int checked = 0;
    for (JsonNode quantity : compared.get("quantities")) {
      String name = quantity.get("quantity").asText();
      BalancedGroups balanced =
          new BalancedGroups(groups.stream().filter(g -> g.quantity().equals(name)).toList());
      JsonNode statistics = quantity.get("statistics");
      assertEquals(statistics.get("n").asDouble(), balanced.n());
      near(statistics.get("mean"), balanced.mean());
      near(statistics.get("standard_deviation"), balanced.sd());
      near(statistics.at("/capability/ppk/value"), balanced.ppk());
      for (JsonNode of : compared.at("/by_group/quantities")) {
        if (of.get("quantity").asText().equals(name)) {
          checked += sources(of.get("sources_of_scatter"), balanced.components());
        }
      }
    }
    assertEquals(6, checked);
  }

  private static int sources(JsonNode sources, Map<String, Double> components) {
    for (JsonNode source : sources) {
      String name = source.get("source").asText();
      near(source.get("standard_deviation"), components.getOrDefault(name, components.get("")));
    }
    return sources.size();
  }

  private static void near(JsonNode expected, double found) {
    assertTrue(expected.isNumber(), expected.toString());
    assertEquals(expected.asDouble(), found, NEAR * Math.abs(found));
  }
}
