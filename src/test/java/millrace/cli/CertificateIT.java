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
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Certificates of a run on a simulated bench and of readings taken elsewhere. */
class CertificateIT {
  private static final String LABORATORY = "examples/osk.laboratory.yaml";

  @TempDir private static Path folder;
  private static String book = "";
  private static String simulated = "";
  private static String imported = "";

  @BeforeAll
  static void write() throws IOException {
    book = folder.resolve("a.db").toString();
    String sheet = "examples/fx-3.datasheet.yaml";
    Spoken.by(
        "run",
        "sequences/quick-look.yaml",
        "--unit",
        "FX3-00042",
        "--simulated",
        "--datasheet",
        sheet,
        "--operator",
        "A. Quist",
        "--logbook",
        book);
    Spoken.by("import", "examples/fx-3-by-hand.csv", "--datasheet", sheet, "--logbook", book);
    simulated = certificate("1", "--customer", "Osk Harbour Works", "--customer", "Pier 3, Osk");
    imported = certificate("2", "--number", "C-77", "--replaces", "C-76");
  }

  private static String certificate(String run, String... more) throws IOException {
    Path file = folder.resolve("certificate-" + run + ".html");
    Spoken said = report(run, file, more);
    assertEquals(0, said.code(), said.err());
    return Files.readString(file).replaceAll("<style>[^<]*</style>", "").replaceAll("<[^>]+>", " ");
  }

  private static Spoken report(String run, Path file, String... more) {
    String[] words = {
      "report",
      run,
      "--certificate",
      "--laboratory",
      LABORATORY,
      "--issued",
      "2026-12-01",
      "--logbook",
      book,
      "-o",
      file.toString()
    };
    String[] all = new String[words.length + more.length];
    System.arraycopy(words, 0, all, 0, words.length);
    System.arraycopy(more, 0, all, words.length, more.length);
    return Spoken.by(all);
  }

  /** ISO/IEC 17025:2017, 7.8; the numbers of its clauses from memory. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "7.8.2.1 a, a title | Calibration certificate",
        "7.8.2.1 b, name of the laboratory | Fennick Instruments, calibration room",
        "7.8.2.1 b, address of the laboratory | Harbour Road 4",
        "7.8.2.1 c, where it was performed | room 2, Harbour Road 4, Osk",
        "7.8.2.1 d, a number of its own | No. FEN-2026-1",
        "7.8.2.1 d, where it ends | End of certificate FEN-2026-1",
        "7.8.2.1 e, the customer | Osk Harbour Works",
        "7.8.2.1 e, how the customer is reached | Pier 3, Osk",
        "7.8.2.1 f, the method | Sequence",
        "7.8.2.1 g, the item without ambiguity | serial number FX3-00042",
        "7.8.2.1 i, dates of performance | Tested",
        "7.8.2.1 j, date of issue | 2026-12-01",
        "7.8.2.1 l, only the items tested | relate only to the item tested",
        "7.8.2.1 m, results with units | ppm",
        "7.8.2.1 n, deviations from the method | Deviations and remarks",
        "7.8.2.1 o, who authorizes it | B. Orell, head of calibration",
        "7.8.2.1 note, reproduced in full only | must not be reproduced except in full",
        "7.8.4.1 a, uncertainty | U is the expanded uncertainty",
        "7.8.4.1 b, conditions | unit temperature",
        "7.8.4.1 c, traceability | Traceability",
        "7.8.6.2 a, results that conformity is stated of | the results with a limit above",
        "7.8.6.2 b, specification met or not | limits are met",
        "7.8.6.2 c, the decision rule | Rule: guarded acceptance",
        "7.8.6.1, the level of risk | The probability that a result stated as",
        "who tested | A. Quist"
      })
  void theChecklistIsFilledIn(String clause, String words) {
    assertTrue(simulated.contains(words), () -> clause + " is not in " + simulated);
  }

  /** ISO/IEC 17025:2017, 7.8.4.3, from memory: no interval unless it was agreed. */
  @Test
  void noRecalibrationIntervalIsRecommended() {
    assertFalse(simulated.toLowerCase(java.util.Locale.ROOT).contains("recalibrat"));
  }

  @Test
  void theOutcomeStandsBeforeAnyResult() {
    int outcome = simulated.indexOf("limits are met");
    assertTrue(outcome > 0 && outcome < simulated.indexOf("serial number"), simulated);
  }

  @Test
  void whatWasSimulatedSaysSoAndClaimsNoTraceability() {
    assertTrue(simulated.contains("SIMULATED: no real unit, no real instruments"), simulated);
    assertTrue(simulated.contains("no real instrument took part"), simulated);
    assertFalse(simulated.contains("traceable to the SI"), simulated);
  }

  /** ISO/IEC 17025:2017, 7.8.8.3, from memory. */
  @Test
  void aNewCertificateNamesTheOneThatItReplaces() {
    assertTrue(imported.contains("No. C-77"), imported);
    assertTrue(imported.contains("replaces certificate No. C-76"), imported);
  }

  @Test
  void readingsTakenElsewhereClaimNoMoreThanTheirFileStates() {
    assertTrue(imported.contains("no traceability is claimed"), imported);
    assertFalse(imported.contains("SIMULATED"), imported);
  }

  @Test
  void theAnnexCarriesTheNumberOfItsCertificate() throws IOException {
    Path file = folder.resolve("annex.html");
    Spoken.done(
        "report",
        "2",
        "--annex",
        "--number",
        "C-77",
        "--laboratory",
        LABORATORY,
        "--logbook",
        book,
        "-o",
        file.toString());
    assertTrue(Files.readString(file).contains("Annex to certificate No. C-77"));
  }

  @Test
  void withoutALaboratoryFileItSaysHowToGetOne() {
    Path none = folder.resolve("none.yaml");
    Path out = folder.resolve("none.html");
    Spoken said =
        Spoken.by(
            "report",
            "1",
            "--certificate",
            "--laboratory",
            none.toString(),
            "--logbook",
            book,
            "-o",
            out.toString());
    assertEquals(2, said.code());
    assertTrue(said.err().contains("'millrace new laboratory " + none + "'"), said.err());
    assertFalse(Files.exists(out));
  }

  @ParameterizedTest
  @CsvSource({
    "--annex, --certificate with --annex",
    "--sheet, --sheet with --certificate",
    "--replaces=C-1, --replaces without a --number of its own"
  })
  void optionsThatContradictAreRefused(String option, String words) {
    Spoken said = report("1", folder.resolve("no.html"), option);
    assertEquals(2, said.code());
    assertTrue(said.err().contains(words), said.err());
  }

  @Test
  void anOptionThatChangesNothingIsRefused() {
    Spoken said = Spoken.by("report", "1", "--customer", "Osk", "--logbook", book);
    assertEquals(2, said.code());
    assertTrue(said.err().contains("--customer without --certificate"), said.err());
  }

  /** They would keep the identity of a run; whoever means to change it takes them off. */
  private static List<String> triggers(Statement by) throws SQLException {
    List<String> names = new ArrayList<>();
    try (ResultSet all = by.executeQuery("SELECT name FROM sqlite_master WHERE type = 'trigger'")) {
      while (all.next()) {
        names.add(all.getString(1));
      }
    }
    return names;
  }

  @Test
  void aRunThatWasChangedAfterwardsGetsNone() throws Exception {
    Path copy = folder.resolve("changed.db");
    assertEquals(0, Spoken.by("export", "--backup", copy.toString(), "--logbook", book).code());
    try (Connection sql = DriverManager.getConnection("jdbc:sqlite:" + copy);
        Statement by = sql.createStatement()) {
      for (String trigger : triggers(by)) {
        by.execute("DROP TRIGGER " + trigger);
      }
      assertEquals(1, by.executeUpdate("UPDATE run SET unit = 'FX3-00099' WHERE id = 2"));
    }
    Path out = folder.resolve("changed.html");
    Spoken said =
        Spoken.by(
            "report",
            "2",
            "--certificate",
            "--laboratory",
            LABORATORY,
            "--logbook",
            copy.toString(),
            "-o",
            out.toString());
    assertEquals(5, said.code(), said.err());
    assertTrue(said.err().contains("run 2 is NOT verified: "), said.err());
    assertFalse(Files.exists(out));
  }
}
