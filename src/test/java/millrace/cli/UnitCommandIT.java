// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
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
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** One unit over its runs, from files of readings whose drift is known. */
class UnitCommandIT {
  private static final String[] DAYS = {"2031-01-10", "2031-07-11", "2032-01-10", "2032-07-10"};

  @TempDir private Path folder;
  private String book = "";
  private Path sheet = Path.of("");

  @BeforeEach
  void aDatasheet() throws IOException {
    book = folder.resolve("a.db").toString();
    sheet = sheet("k.yaml", 100);
  }

  private Path sheet(String name, int ppm) throws IOException {
    Path file = folder.resolve(name);
    Files.writeString(
        file,
        """
        datasheet: K
        recalibrate: 12 months
        ranges: {1mA: {nominal: 1 mA}}
        limits:
          - {quantity: current_error, range: 1mA, lower: -%s ppm, upper: %s ppm,
             when: {terminal voltage: [0 V, 3 V]}}
        """
            .formatted(ppm, ppm));
    return file;
  }

  /** Readings of one day; 1 ppm at each point, 2 ppm common to all. */
  private void visit(String unit, String day, double ppm) throws IOException {
    Path csv = folder.resolve(unit + "-" + day + ".csv");
    StringBuilder rows =
        new StringBuilder(
            "unit,range,nominal_A,load_ohm,temperature_degC,current_A,u_current_A,u_common_relative,taken_at\n");
    for (int load : new int[] {0, 1000, 2000, 3000}) {
      rows.append(
          "%s,1mA,0.001,%s,23,%s,1e-9,2e-6,%sT09:00:00+01:00%n"
              .formatted(unit, load, 1e-3 * (1 + 1e-6 * ppm), day));
    }
    Files.writeString(csv, rows);
    Spoken.done("import", csv.toString(), "--datasheet", sheet.toString(), "--logbook", book);
  }

  private void drifting(String unit) throws IOException {
    for (int i = 0; i < DAYS.length; i++) {
      visit(unit, DAYS[i], 10 + 20 * i);
    }
  }

  private Spoken unit(String... more) {
    List<String> words = new ArrayList<>(List.of("unit", "K-1", "--logbook", book));
    words.addAll(List.of(more));
    return Spoken.done(words.toArray(String[]::new));
  }

  private JsonNode json() throws IOException {
    return new ObjectMapper().readTree(unit("--json").out());
  }

  /**
   * 10, 30, 50, 70 ppm on days 0, 182, 365, 547: by hand the least-squares slope is 20 ppm in
   * 182.33 days, 40.05 ppm a year, and 30 ppm more take until 2033-04-09 or so.
   */
  @Test
  void theVerdictSaysWhenTheLimitIsLeftAndWhenToLookAgain() throws IOException {
    drifting("K-1");
    Spoken said = unit();
    String all = said.out().replaceAll("\\s+", " ");
    assertTrue(
        all.startsWith(
            "Unit K-1 is within its limits: in run 4 (from 2032-07-10) the one limit is met. Range"
                + " 1mA drifts by (40.0 \u00b1 "),
        all);
    assertTrue(
        all.contains("expected to rise above 100 ppm about 2033-04-10. On that day the chance"),
        all);
    JsonNode range = json().at("/ranges/0");
    assertEquals(40.05, range.at("/drift/ppm_per_year").asDouble(), 0.02);
    assertEquals(4, range.at("/drift/visits").asInt());
    assertTrue(range.at("/drift/significant").asBoolean());
    assertFalse(range.at("/drift/same_instruments").asBoolean());
    // Own error of a visit by its budget; 2 ppm common, new at each visit: u = hypot/(sqrt Sxx).
    double own = range.at("/visits/0/standard_uncertainty").asDouble();
    double sxx = 547.0 * 547 / 4 * 2 + 183.0 * 183 / 4 * 2;
    assertEquals(
        own / Math.sqrt(sxx) * 365.25,
        range.at("/drift/standard_uncertainty").asDouble(),
        0.02 * own);
    String sure = range.at("/limits/0/sure_until").asText();
    assertTrue(sure.startsWith("2033-0"), sure);
    assertEquals(sure, json().at("/look_again/by").asText());
    assertTrue(all.contains("Look again by " + sure + ": "), all);
    double within = json().at("/look_again/probability_within_limits").asDouble();
    assertTrue(within >= 0.95 && within < 0.97, "" + within);
  }

  @Test
  void whatIsOutsideAlreadyIsNotExpectedToLeave() throws IOException {
    for (int i = 0; i < DAYS.length; i++) {
      visit("K-1", DAYS[i], 80 + 20 * i);
    }
    String all = unit().out().replaceAll("\\s+", " ");
    assertTrue(
        all.startsWith("Unit K-1 is NOT within its limits: in run 4 (from 2032-07-10) "), all);
    assertTrue(
        all.contains("more likely outside than within its limits already: it rose above 100 ppm."),
        all);
    assertTrue(
        all.contains(
            "Look again by 2032-07-10: range 1mA is within its limits with less than 95 %"
                + " already."),
        all);
  }

  @Test
  void aRepairBeginsANewLine() throws IOException {
    drifting("K-1");
    Spoken.done("note", "2", "--repair", "R2 replaced", "--logbook", book);
    Spoken said = unit();
    String all = said.out().replaceAll("\\s+", " ");
    assertTrue(
        all.contains(
            "The drift tells nothing yet: there are visits on 2 days; three are the least (range"
                + " 1mA)."),
        all);
    assertTrue(all.contains("Look again by 2033-07-10: the datasheet says 'recalibrate'."), all);
    assertTrue(all.contains("After run 2, repair: R2 replaced."), all);
    assertTrue(all.contains("(before this: R2 replaced): range 1mA of run 1, 2."), all);
    JsonNode json = json();
    assertTrue(json.at("/ranges/0/drift").isNull());
    assertEquals("R2 replaced", json.at("/runs/1/repairs_after/0/text").asText());
    visit("K-1", "2033-01-10", 90);
    assertEquals(3, json().at("/ranges/0/drift/visits").asInt());
  }

  @Test
  void whatWasRepairedAndNotMeasuredSinceIsNotCalledWithinItsLimits() throws IOException {
    drifting("K-1");
    Spoken.done("note", "4", "--repair", "R2 replaced", "--logbook", book);
    String all = unit().out().replaceAll("\\s+", " ");
    assertTrue(
        all.startsWith(
            "Unit K-1 was repaired after run 4 (from 2032-07-10) and not measured since: R2"
                + " replaced. How it stands now is not known: measure it."),
        all);
    assertFalse(all.contains("Look again by"), all);
    Path sheet = folder.resolve("sheet.html");
    Spoken.done("report", "4", "--sheet", "-o", sheet.toString(), "--logbook", book);
    String before = "The unit was repaired after this run: R2 replaced (";
    assertTrue(Files.readString(sheet).contains(before), "results of before are not said to be");
    Spoken label = Spoken.by("label", "4", "--logbook", book);
    assertEquals(2, label.code());
    assertTrue(label.err().contains("the unit was repaired after it: R2 replaced"), label.err());
  }

  @Test
  void aRepairAllowsNoUseOfWhatIsNotToBeUsed() throws IOException {
    drifting("K-1");
    Spoken.done("note", "3", "--do-not-use", "--yes", "wrong unit", "--logbook", book);
    Spoken.done("note", "3", "--repair", "R2 replaced", "--logbook", book);
    String all = unit().out().replaceAll("\\s+", " ");
    assertTrue(all.contains("Run 3 is left out: 'do not use' was said of it."), all);
    Spoken compared = Spoken.by("compare", "--unit", "K-1", "--logbook", book);
    assertTrue(compared.out().contains("run 3 is left out"), compared.out());
    Spoken both = Spoken.by("note", "1", "--repair", "--use-again", "x", "--logbook", book);
    assertEquals(2, both.code());
  }

  @Test
  void simulatedRunsNeverStandAmongRealOnes() throws IOException {
    drifting("FX3-00042");
    Spoken.by(
        "run",
        "sequences/quick-look.yaml",
        "--unit",
        "FX3-00042",
        "--simulated",
        "--datasheet",
        "examples/fx-3.datasheet.yaml",
        "--logbook",
        book);
    Spoken said = Spoken.done("unit", "FX3-00042", "--logbook", book);
    assertTrue(
        said.out().contains("Run 5 is left out: simulated: it never stands among real runs."),
        said.out());
    assertFalse(said.out().contains("SIMULATED"), said.out());
  }

  @Test
  void aRunThatWasChangedAfterwardsIsLeftOutAndNamed() throws IOException, SQLException {
    drifting("K-1");
    Path copy = folder.resolve("changed.db");
    Spoken.done("export", "--backup", copy.toString(), "--logbook", book);
    change(copy);
    Spoken said = Spoken.done("unit", "K-1", "--logbook", copy.toString());
    assertTrue(said.out().contains("Run 2 is left out: it is NOT verified: "), said.out());
    String found = Spoken.done("unit", "K-1", "--json", "--logbook", copy.toString()).out();
    JsonNode json = new ObjectMapper().readTree(found);
    assertEquals(3, json.at("/ranges/0/drift/visits").asInt());
    assertTrue(json.at("/runs/1/outcome").isNull());
  }

  private static void change(Path logbook) throws SQLException {
    try (Connection sql = DriverManager.getConnection("jdbc:sqlite:" + logbook);
        Statement by = sql.createStatement()) {
      List<String> triggers = new ArrayList<>();
      try (ResultSet rows =
          by.executeQuery("SELECT name FROM sqlite_master WHERE type='trigger'")) {
        while (rows.next()) {
          triggers.add(rows.getString(1));
        }
      }
      for (String trigger : triggers) {
        by.execute("DROP TRIGGER " + trigger);
      }
      assertEquals(1, by.executeUpdate("UPDATE run SET title = 'other' WHERE id = 2"));
    }
  }

  /** A visit at another nominal current, or judged by other limits, is told apart or compared. */
  @Test
  void aChangedDatasheetIsSaidAndItsLimitCounts() throws IOException {
    drifting("K-1");
    String before = json().at("/ranges/0/limits/0/leaves_about").asText();
    sheet = sheet("tighter.yaml", 95);
    visit("K-1", "2032-10-09", 80);
    JsonNode json = json();
    assertEquals("another datasheet than in run 4", json.at("/runs/4/notes/0").asText());
    assertEquals(5, json.at("/ranges/0/drift/visits").asInt());
    assertEquals(95, json.at("/ranges/0/limits/0/limit_ppm/upper").asDouble());
    assertNotEquals(before, json.at("/ranges/0/limits/0/leaves_about").asText());
  }

  @Test
  void visitsOfAFewDaysForetellNothing() throws IOException {
    for (int i = 1; i < 5; i++) {
      visit("K-1", "2031-01-0" + i, 10 * i);
    }
    String all = unit().out().replaceAll("\\s+", " ");
    assertTrue(
        all.contains(
            "When a limit is left is not told: the visits lie within 3 days; ageing shows"
                + " over 30 days or more (range 1mA)."),
        all);
  }

  @Test
  void thePageShowsEachRangeItsLimitsAndItsRepairs() throws IOException {
    drifting("K-1");
    visit("K-1", "2033-01-10", 90);
    Spoken.done("note", "1", "--repair", "R2 replaced", "--logbook", book);
    Path page = folder.resolve("k.html");
    unit("-o", page.toString());
    String html = Files.readString(page);
    assertTrue(html.contains("<h1>Unit K-1 over its runs</h1>"), "no heading");
    assertTrue(html.contains("Range 1mA: current error over time"), "no chart");
    for (String part : List.of(">limit<", ">repair<", "not in the drift", "Look again by 20")) {
      assertTrue(html.contains(part), part + " is missing");
    }
    assertTrue(html.indexOf("Look again by") < html.indexOf("<svg"), "the verdict comes first");
    assertFalse(html.contains("NaN"), "a number is none");
  }

  @Test
  void aUnitThatNobodyMeasuredIsRefusedWithTheNearest() throws IOException {
    visit("K-1", DAYS[0], 10);
    Spoken said = Spoken.by("unit", "K-11", "--logbook", book);
    assertEquals(2, said.code());
    assertEquals(
        "millrace: %s: no run of a unit 'K-11'; expected the serial number of a unit that was measured. Did you mean 'K-1'? 'millrace runs' lists them.%n"
            .formatted(book),
        said.err());
  }

  @Test
  void aUnitWhoseRunsAreAllLeftOutSaysWhy() throws IOException {
    visit("K-1", DAYS[0], 10);
    Spoken.done("note", "1", "--do-not-use", "--yes", "wrong unit", "--logbook", book);
    Spoken said = Spoken.by("unit", "K-1", "--logbook", book);
    assertEquals(6, said.code());
    assertTrue(said.err().contains("run 1: 'do not use' was said of it"), said.err());
  }
}
