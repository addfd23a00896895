// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.InetAddress;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Stream;
import millrace.PostgresServer;
import millrace.logbook.BenchRuns;
import millrace.logbook.Logbook;
import millrace.logbook.LogbookPlace;
import millrace.logbook.StoreAddress;
import millrace.watch.WatchServer;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The same commands on the same runs, read from their logbook and from a store: the same words. */
@Timeout(300)
class FromStoreIT {
  @TempDir static Path folder;
  private static PostgresServer server = PostgresServer.get();
  private static String book = "";
  private static String store = "";

  @BeforeAll
  static void publish() {
    book = folder.resolve("a.db").toString();
    store = server.store();
    Spoken shift =
        Spoken.typing(
            "FX3-00001\nFX3-00003\nFX3-00004\nend\n",
            "production",
            "sequences/production-board-test.yaml",
            "--datasheet",
            "examples/fx-3.datasheet.yaml",
            "--simulated",
            "--operator",
            "Ada",
            "--shift",
            "early",
            "--tag",
            "T",
            "--logbook",
            book);
    assertTrue(shift.code() < 2, shift.err());
    BenchRuns.asIfReal(Path.of(book));
    Spoken.importExample(book);
    Spoken.by("analyze", "4", "--logbook", book);
    Spoken.done("note", "2", "Was the door open?", "--logbook", book);
    Spoken.done("note", "3", "--repair", "R2 replaced", "--logbook", book);
    assertEquals(
        "4 published, 0 added to, 0 there already",
        Spoken.done("publish", "--all", "--to", store, "--logbook", book)
            .out()
            .lines()
            .reduce((a, b) -> b)
            .orElse(""));
  }

  private static List<String> words(String line, String made) {
    List<String> words = new ArrayList<>();
    for (String word : line.strip().split(" ")) {
      words.add(word.replace("OUT", made).replace('_', ' '));
    }
    return words;
  }

  private static Spoken said(String line, String made, String... source) {
    List<String> words = words(line, made);
    words.addAll(List.of(source));
    return Spoken.by(words.toArray(String[]::new));
  }

  /** The words and files of a command without what names where it read. */
  private static String all(Spoken said, Path made) throws IOException {
    TreeMap<String, String> files = new TreeMap<>();
    if (Files.exists(made)) {
      try (Stream<Path> walked = Files.walk(made)) {
        for (Path file : walked.filter(Files::isRegularFile).toList()) {
          files.put(made.relativize(file).toString(), Files.readString(file, ISO_8859_1));
        }
      }
    }
    return (said.code() + "\n" + said.out() + said.err() + files)
        .replace("--logbook " + book, "SOURCE")
        .replace("--from '" + store + "'", "SOURCE")
        .replace(store.replaceAll("[?].*", ""), "PLACE")
        .replace(book, "PLACE")
        .replace(made.toString(), "OUT");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "runs",
        "runs --json",
        "runs --failed",
        "runs --text DOOR",
        "runs --text Ä",
        "runs --instrument dmm1",
        "runs --unit FX3-00003 --since 2000-01-01",
        "show 1",
        "show 2 --points",
        "show 3 --point 5",
        "show 4 --verify",
        "show 1 --verify",
        "show 99",
        "report 1 -o OUT.html",
        "report 4 -o OUT.html",
        "report 2 --sheet -o OUT.html",
        "export 1 -o OUT.csv",
        "export 4",
        "export 1 2 4 --tables OUT",
        "export 1 2 4 --parquet OUT",
        "export --all --parquet OUT",
        "export 4 --constants --json",
        "unit FX3-00001 --json",
        "unit FX3-00003 -o OUT.html",
        "label 2 -o OUT.svg",
        "label 3 -o OUT.svg",
        "compare --tag T",
        "compare --tag T --all --json",
        "compare 1 2 3 4 --by bench,batch",
        "compare 1 2 3 --csv OUT.csv -o OUT.html",
        "compare 1 2 3 --causes"
      })
  void answersTheSame(String line) throws IOException {
    Path here = Files.createTempDirectory(folder, "made");
    Path there = Files.createTempDirectory(folder, "made");
    String mine = all(said(line, here + "/out", "--logbook", book), here);
    String other = all(said(line, there + "/out", "--from", store), there);
    List<String> lines = other.lines().filter(l -> mine.lines().noneMatch(l::equals)).toList();
    assertEquals(List.of(), lines);
    assertEquals(mine, other);
  }

  @Test
  void aJudgingIsAddedAndNoneIsTakenAway() {
    String copy = server.store();
    Spoken.done("publish", "--all", "--to", copy, "--logbook", book);
    Spoken here = Spoken.by("analyze", "4", "--json", "--logbook", book);
    Spoken there = Spoken.by("analyze", "4", "--json", "--from", copy);
    assertEquals(here.out(), there.out());
    int before = judgings();
    String name = copy.replaceAll(".*/|[?].*", "");
    String count = "SELECT count(*) FROM millrace.evaluation WHERE run_id = 4";
    assertEquals(before, Integer.parseInt(server.sql(name, count).strip()));

    Spoken.done(
        "note",
        "4",
        "--do-not-use",
        "--yes",
        "a lead had slipped off",
        "--point",
        "7",
        "--logbook",
        book);
    Spoken.done("publish", "--all", "--to", copy, "--logbook", book);
    Spoken again = Spoken.by("analyze", "4", "--json", "--from", copy);
    Spoken mine = Spoken.by("analyze", "4", "--json", "--logbook", book);
    assertEquals(judged(mine), judged(again));
    assertTrue(before < judgings());
    assertEquals(judgings(), Integer.parseInt(server.sql(name, count).strip()));
    Spoken verified = Spoken.done("show", "4", "--verify", "--from", copy);
    assertTrue(verified.out().contains("verified"), verified.out());
  }

  /** Without the time of the judging, which is another. */
  private static String judged(Spoken said) {
    return said.out().replaceAll("\"judged_at\" : \"[^\"]*\"", "");
  }

  private static int judgings() {
    try (Logbook read = Logbook.readOnly(Path.of(book))) {
      return read.reader(4).evaluations().size();
    }
  }

  @Test
  void whoMayOnlyReadIsShownTheResults() {
    server.sql(
        "postgres",
        "DO $$ BEGIN CREATE ROLE reader_1 LOGIN PASSWORD 'keeper' IN ROLE millrace_reader;"
            + " EXCEPTION WHEN duplicate_object THEN NULL; END $$");
    String reader = store.replace("user=keeper", "user=reader_1");
    Spoken here = Spoken.by("analyze", "1", "--all", "--logbook", book);
    Spoken there = Spoken.by("analyze", "1", "--all", "--from", reader);
    assertEquals(here.out(), there.out());
    assertEquals(here.code(), there.code());
    assertEquals(
        "this user may only read the store: results are shown, not kept\n" + here.err(),
        there.err());
  }

  /** What a page of the watch server says, without its own address and token. */
  private static String page(LogbookPlace place, String path) throws Exception {
    try (WatchServer server =
        WatchServer.start(
            new WatchServer.Settings(
                place,
                Optional.empty(),
                Optional.empty(),
                InetAddress.getLoopbackAddress(),
                0,
                true,
                Optional.empty(),
                Optional.empty()),
            fault -> {
              throw new AssertionError(fault);
            })) {
      String body = body(server, path);
      // its results come when they are computed: in the table and in the answer above it
      while (path.equals("/run/1")
          && !(body.contains("<h2>Limits</h2>") && body.contains(" limits are met"))) {
        Thread.sleep(100);
        body = body(server, path);
      }
      return body.replace(place.name(), "PLACE");
    }
  }

  private static String body(WatchServer server, String path) throws Exception {
    HttpResponse<String> answer =
        HttpClient.newHttpClient()
            .send(
                HttpRequest.newBuilder(URI.create(server.address() + path)).build(),
                HttpResponse.BodyHandlers.ofString());
    assertEquals(200, answer.statusCode(), answer.body());
    return answer.body();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "/",
        "/?text=door",
        "/?failed=on",
        "/run/1",
        "/run/4/report",
        "/compare?run=1&run=2"
      })
  void pagesForBrowsersSayTheSame(String path) throws Exception {
    String mine = page(LogbookPlace.of(Path.of(book)), path);
    String other = page(LogbookPlace.of(StoreAddress.of(store)), path);
    assertEquals(List.of(), other.lines().filter(l -> mine.lines().noneMatch(l::equals)).toList());
    assertEquals(mine, other);
  }

  @Test
  void whatNeedsAFileIsRefused() {
    notEmpty(List.of("export --backup x.db", "export 1 --pack x.mlr"))
        .forEach(
            line -> {
              Spoken said = said(line, "", "--from", store);
              assertEquals(2, said.code(), said.err());
              assertTrue(said.err().contains("take a logbook, not a store"), said.err());
            });
    Spoken both = Spoken.by("runs", "--from", store, "--logbook", book);
    assertEquals(2, both.code());
    assertTrue(both.err().contains("--from and --logbook do not go together"), both.err());
  }
}
