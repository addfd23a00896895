// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import millrace.cli.draft.SchemaCommand;
import millrace.logbook.FileRole;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** What comes after the readings: other files, packs; the readings stay as they are. */
@Timeout(180)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class JudgedAgainIT {
  private static final String SHEET = "examples/fx-3.datasheet.yaml";
  private static final String SEQUENCE =
      """
      sequence: one range
      compute: [current_error, load_regulation]
      steps:
        - in ranges: [1mA]
          do:
            - zero
            - over loads: {share of compliance: [0 %, 30 %, 60 %, 90 %]}
      """;

  /** Reads 20 ppm too low, says the new certificate: every current is higher than was thought. */
  private static final String CORRECTIONS =
      "        corrections:\n"
          + "          - {at: 1 mA, correction: 20 nA, u: 4 nA, k: 2}\n"
          + "          - {at: 2 mA, correction: 40 nA, u: 8 nA, k: 2}\n";

  @TempDir private static Path measured;
  @TempDir private Path folder;

  private Spoken millrace(String... words) {
    return at(folder.resolve("a.db"), words);
  }

  private static Spoken at(Path logbook, String... words) {
    List<String> all = new ArrayList<>(List.of(words));
    all.addAll(List.of("--logbook", logbook.toString()));
    return Spoken.by(all.toArray(String[]::new));
  }

  @BeforeAll
  void measure() throws IOException {
    Path sequence = Files.writeString(measured.resolve("one.yaml"), SEQUENCE);
    for (String unit : List.of("FX3-00042", "FX3-00043")) {
      Spoken run =
          at(
              measured.resolve("a.db"),
              "run",
              sequence.toString(),
              "--unit",
              unit,
              "--datasheet",
              SHEET,
              "--simulated",
              "--batch",
              "B7");
      assertTrue(run.code() < 2 || run.code() == 7, run.err());
    }
  }

  @BeforeEach
  void copy() throws IOException {
    Files.copy(measured.resolve("a.db"), folder.resolve("a.db"));
  }

  private String keptBench() {
    try (Logbook book = Logbook.readOnly(folder.resolve("a.db"))) {
      RunReader run = book.reader(1);
      return run.files().stream()
          .filter(f -> f.role() == FileRole.BENCH)
          .map(f -> new String(run.content(f), StandardCharsets.UTF_8))
          .findFirst()
          .orElseThrow();
    }
  }

  private Path benchWithANewCertificate() throws IOException {
    String bench = keptBench();
    int voltmeter = bench.indexOf("  voltmeter:\n");
    return Files.writeString(
        folder.resolve("new.bench.yaml"),
        bench.substring(0, voltmeter).replace("OHC-1042", "OHC-2077")
            + CORRECTIONS
            + bench.substring(voltmeter));
  }

  private JsonNode analyzed(String... more) {
    List<String> words = new ArrayList<>(List.of("analyze", "1", "--json"));
    words.addAll(List.of(more));
    Spoken spoken = millrace(words.toArray(String[]::new));
    JsonNode json = Schemas.json(spoken.out());
    assertEquals(List.of(), Schemas.complaints(SchemaCommand.Kind.results, json));
    return json;
  }

  private static double error(JsonNode results) {
    for (JsonNode r : results) {
      if (r.at("/quantity").asText().equals("current_error")) {
        return r.at("/value").asDouble();
      }
    }
    throw new IllegalArgumentException("no current error in " + results);
  }

  private String digest() {
    Spoken shown = millrace("show", "1", "--verify");
    assertEquals(0, shown.code(), shown.err());
    return shown.out().replaceFirst("(?s).*digest computed: (\\w+)\\n.*", "$1");
  }

  @Test
  void aNewCertificateMovesTheCurrentsOfEveryRunThatItsMeterTookPartIn() throws IOException {
    String digest = digest();
    double before = error(analyzed().at("/results"));
    Path bench = benchWithANewCertificate();
    Spoken all =
        millrace(
            "analyze",
            "--instrument",
            "ammeter",
            "--bench",
            bench.toString(),
            "--because",
            "certificate OHC-2077 came");
    assertTrue(all.out().contains("1    FX3-00042"), all.out() + all.err());
    assertTrue(all.out().contains("2    FX3-00043"), all.out());

    JsonNode now = analyzed();
    assertEquals("certificate OHC-2077 came", now.at("/judged_because").asText());
    // The correction of 20 nA at 1 mA, in ppm, but for what the error itself takes off it.
    assertEquals(before + 20, error(now.at("/results")), 0.01);
    assertEquals(before, error(now.at("/earlier/results")), 1e-9);
    assertEquals(digest, digest());
    Path sheet = folder.resolve("s.html");
    millrace("report", "1", "--sheet", "-o", sheet.toString());
    String html = Files.readString(sheet);
    assertTrue(html.contains("counts for instrument ammeter with certificate"), "not named");
    assertTrue(html.contains("OHC-2077"), "the new certificate is not named");
    assertEquals(before, error(analyzed("--as-measured").at("/results")), 1e-9);
  }

  @Test
  void aReportTellsWhatWasJudgedBeforeAndByWhat() throws IOException {
    String bench = benchWithANewCertificate().toString();
    Spoken again = millrace("analyze", "1", "--bench", bench);
    assertTrue(again.out().contains("Judged before on "), again.out());
    assertTrue(again.out().contains("judged by the files that the run was made from"), again.out());
    Path page = folder.resolve("r.html");
    Spoken said = millrace("report", "1", "-o", page.toString());
    assertEquals(0, said.code(), said.err());
    String html = Files.readString(page);
    assertTrue(html.contains("Judged again"), "no such section");
    assertTrue(html.contains("counts for everything"), "the bench file is not named");
  }

  @Test
  void aTightenedDatasheetTurnsAPassIntoAFailAndSaysSo() throws IOException {
    String tight =
        Files.readString(Path.of(SHEET))
            .replace("-150 ppm - 90 pA, upper: 150 ppm", "40 ppm, upper: 150 ppm");
    Path sheet = Files.writeString(folder.resolve("tight.yaml"), tight);
    Spoken judged = millrace("analyze", "1", "--datasheet", sheet.toString());
    assertEquals(1, judged.code(), judged.out());
    assertTrue(judged.out().contains("pass -> fail"), judged.out());
  }

  @Test
  void anotherInstrumentIsNotJudgedByThisOnesCertificate() throws IOException {
    Path bench =
        Files.writeString(
            folder.resolve("other.yaml"),
            keptBench()
                .replaceFirst("driver: scpi meter", "driver: scpi meter\n    identity: X99"));
    Spoken refused = millrace("analyze", "1", "--bench", bench.toString());
    assertEquals(2, refused.code());
    assertTrue(refused.err().contains("'ammeter' is another instrument"), refused.err());
    Spoken missing =
        millrace("analyze", "1", "--bench", bench.toString(), "--instrument", "nobody");
    assertTrue(missing.err().contains("run 1 used no instrument 'nobody'"), missing.err());
    assertEquals(2, millrace("analyze", "1", "--instrument", "ammeter").code());
  }

  @Test
  void aPointThatIsNotToBeUsedIsShownWithAndWithoutIt() {
    Spoken noted =
        millrace("note", "1", "--point", "4", "--do-not-use", "--yes", "a lead had slipped off");
    assertEquals(0, noted.code(), noted.err());
    assertTrue(noted.out().contains("load regulation  1mA"), noted.out());
    assertTrue(noted.out().contains("Judged before on "), noted.out());
    JsonNode now = analyzed();
    assertFalse(now.at("/earlier/results").isEmpty(), now.toString());
    Spoken back = millrace("note", "1", "--point", "4", "--use-again", "it was another point");
    assertTrue(back.out().contains("Judged before on "), back.out());
  }

  @Test
  void aPackedBatchComesIntoAnotherLogbookOnceWithItsJudgingsAndRemarks() throws IOException {
    millrace("analyze", "1", "--bench", benchWithANewCertificate().toString());
    millrace("note", "2", "the door stood open");
    Path pack = folder.resolve("b7.mlr");
    Spoken packed = millrace("export", "--batch", "B7", "--pack", pack.toString());
    assertEquals(0, packed.code(), packed.err());
    assertTrue(packed.out().matches("seal [0-9a-f]{64}\\n"), packed.out());

    Path there = folder.resolve("there.db");
    Spoken taken = at(there, "import", pack.toString());
    assertEquals(0, taken.code(), taken.err());
    assertTrue(taken.err().contains(packed.out().strip()), taken.err());
    assertEquals(at(there, "analyze", "1", "--json").out(), analyzedAsText());
    assertTrue(at(there, "show", "2").out().contains("the door stood open"));
    Spoken again = at(there, "import", pack.toString());
    assertEquals(2, again.out().lines().filter(l -> l.contains("is there already")).count());
    assertEquals(2, at(there, "runs", "--json").out().split("run_uuid", -1).length - 1);
  }

  private String analyzedAsText() {
    return millrace("analyze", "1", "--json").out();
  }
}
