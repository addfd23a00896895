// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.bench.driver.DriverForms;
import millrace.bench.role.RoleName;
import millrace.cli.draft.NewCommand;
import millrace.cli.draft.SchemaCommand;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.datasheet.RecalibrationInterval;
import millrace.document.yaml.YamlFile;
import millrace.fault.InputFaultList;
import millrace.laboratory.Laboratory;
import millrace.laboratory.LaboratoryFile;
import millrace.night.BenchLimitCheck;
import millrace.sequence.Plan;
import millrace.sequence.SequenceExpansion;
import millrace.sequence.SequenceForms;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class NewCommandTest {
  /** More lines of Enter than any draft has questions. */
  private static final String ENTERS = "\n".repeat(60);

  @TempDir Path folder;

  private Path file() {
    return folder.resolve("draft.yaml");
  }

  private Spoken drafted(String kind, String typed) {
    return Spoken.typing(typed, "new", kind, file().toString());
  }

  private void holdsToTheSchema(SchemaCommand.Kind kind) {
    assertEquals(List.of(), Schemas.complaints(kind, Schemas.yaml(file())));
  }

  @Test
  void aDatasheetFromItsNameAlone() {
    Spoken spoken = drafted("datasheet", "Test: kind #1\n" + ENTERS);
    assertEquals(0, spoken.code(), spoken.err());
    assertEquals("written: " + file() + System.lineSeparator(), spoken.out());
    Datasheet datasheet = DatasheetFile.read(file());
    assertEquals("Test: kind #1", datasheet.name());
    assertEquals(List.of("100uA", "1mA"), List.copyOf(datasheet.ranges().keySet()));
    assertEquals(2, datasheet.limits().size());
    holdsToTheSchema(SchemaCommand.Kind.datasheet);
  }

  @Test
  void answersThatCannotBeUsedAreAskedAgain() {
    String typed =
        """

        Kind 'K'
        K[0-9
        K[0-9]{4}
        23 K
        20 degC
        60 V
        0 V
        12 V
        1 %
        guarde
        guarded four outcomes
        1.5 years
        1 year
        own
        1 mA, 1000 uA
        1 mA, 10 mA
        0.01 %
        5 ppm/K
        """;
    Spoken spoken = drafted("datasheet", typed);
    assertEquals(0, spoken.code(), spoken.err());
    assertTrue(spoken.err().contains("Something must be typed."));
    assertTrue(spoken.err().contains("only a difference in K"), spoken.err());
    assertTrue(spoken.err().contains("'0 V' is not above 0."), spoken.err());
    assertTrue(spoken.err().contains("Did you mean 'guarded'?"), spoken.err());
    assertTrue(spoken.err().contains("two ranges are the same"), spoken.err());
    assertTrue(spoken.err().contains("'1.5 years' is no interval of the calendar"), spoken.err());
    Datasheet datasheet = DatasheetFile.read(file());
    assertEquals("Kind 'K'", datasheet.name());
    assertEquals(20, datasheet.referenceTemperatureDegC());
    assertEquals(Optional.of(RecalibrationInterval.parse("1 year")), datasheet.recalibrate());
    assertEquals(12, datasheet.compliance().voltageV().orElseThrow());
    assertEquals(100, datasheet.limits().get(0).limit(1e-3).upper().orElseThrow(), 1e-9);
    holdsToTheSchema(SchemaCommand.Kind.datasheet);
  }

  @Test
  void aSequenceFitsADatasheet() {
    Spoken spoken = drafted("sequence", "my night\n" + ENTERS);
    assertEquals(0, spoken.code(), spoken.err());
    Datasheet datasheet = DatasheetFile.read(Path.of("examples/fx-3.datasheet.yaml"));
    Plan plan =
        SequenceExpansion.expand(SequenceForms.read(file()).sequence(), datasheet, List.of());
    assertEquals(1 + 6 * 5 * (1 + 22 + 1), plan.points().size());
    holdsToTheSchema(SchemaCommand.Kind.sequence);
  }

  /** First steps lead somewhere: two files of default answers, run on the simulated bench. */
  @Test
  void whatIsDraftedByDefaultRunsToAPass() {
    Path sheet = folder.resolve("sheet.yaml");
    Path night = folder.resolve("night.yaml");
    Path book = folder.resolve("night.db");
    assertEquals(0, Spoken.typing("K\n" + ENTERS, "new", "datasheet", sheet.toString()).code());
    assertEquals(0, Spoken.typing("N\n" + ENTERS, "new", "sequence", night.toString()).code());
    Spoken run =
        Spoken.done(
            "run",
            night.toString(),
            "--unit",
            "A-1",
            "--datasheet",
            sheet.toString(),
            "--simulated",
            "--logbook",
            book.toString());
    assertTrue(run.out().contains("Pass. All 4 limits are met."), run.out());
  }

  @Test
  void aSequenceWithoutAChamber() {
    Spoken spoken = drafted("sequence", "bench top\n20\n1\n2 s\nno\nno\n7\nup\nno\n");
    assertEquals(0, spoken.code(), spoken.err());
    Datasheet datasheet = DatasheetFile.read(Path.of("examples/fx-3.datasheet.yaml"));
    Plan plan =
        SequenceExpansion.expand(SequenceForms.read(file()).sequence(), datasheet, List.of());
    assertEquals(5 * (1 + 7), plan.points().size());
    assertEquals(20, plan.points().get(0).rules().readings().count());
  }

  @Test
  void aBenchOfHandsAlone() {
    Spoken spoken = drafted("bench", "kitchen table\n" + ENTERS);
    assertEquals(0, spoken.code(), spoken.err());
    assertTrue(spoken.err().contains("erial ports"), spoken.err());
    BenchFile bench = BenchForms.read(file());
    assertTrue(bench.in(RoleName.CURRENT_METER).isPresent());
    assertEquals(List.of("range-selector", "load"), bench.safeOrder());
    holdsToTheSchema(SchemaCommand.Kind.bench);
  }

  @Test
  void aBenchWithASwitchSaysWhereTheUnitSits() {
    String typed = "switched\n\n" + "no\n".repeat(RoleName.SWITCH.ordinal()) + "yes\n\n\nno\n";
    Spoken spoken = drafted("bench", typed + "7\n" + ENTERS);
    assertEquals(0, spoken.code(), spoken.err());
    assertEquals(java.util.Map.of("unit", "7"), BenchForms.read(file()).slots());
  }

  @Test
  void aBenchWithChamberAndSupplySaysHowFarTheyMayGo() {
    StringBuilder typed = new StringBuilder("warm and fed\n\n");
    for (RoleName role : RoleName.values()) {
      boolean wanted = role == RoleName.CHAMBER || role == RoleName.SUPPLY;
      typed.append(wanted ? "yes\n\n\n\n\n" : "no\n");
      typed.append(role == RoleName.CHAMBER ? "\n" : "");
    }
    Spoken spoken = drafted("bench", typed + ENTERS);
    assertEquals(0, spoken.code(), spoken.err());
    BenchFile bench = BenchForms.read(file());
    InputFaultList faults = new InputFaultList();
    BenchLimitCheck.missing(bench, faults);
    faults.throwIfAny();
    assertEquals(
        30, bench.facts(RoleName.SUPPLY).orElseThrow().allowed().mostV().orElseThrow(), 1e-9);
    holdsToTheSchema(SchemaCommand.Kind.bench);
  }

  @Test
  void oneInstrumentMayHaveSeveralRoles() {
    String typed =
        """
        two in one
        60 Hz
        yes
        meter
        scpi metre
        scpi meter
        tcp 10.0.0.5
        tcp 10.0.0.5:5025
        20 ppm
        5 ppm
        0.5 ohm

        yes
        meter
        """
            + ENTERS;
    Spoken spoken = drafted("bench", typed);
    assertEquals(0, spoken.code(), spoken.err());
    assertTrue(spoken.err().contains("Did you mean 'scpi meter'?"), spoken.err());
    BenchFile bench = BenchForms.read(file());
    BenchFile.Entry meter = bench.instruments().get("meter");
    assertEquals("tcp 10.0.0.5:5025", meter.address().toString());
    assertTrue(
        meter.roles().keySet().containsAll(List.of(RoleName.CURRENT_METER, RoleName.VOLTMETER)));
    assertEquals(60, bench.lineFrequencyHz());
    holdsToTheSchema(SchemaCommand.Kind.bench);
  }

  @ParameterizedTest
  @EnumSource(RoleName.class)
  void aDriverForEveryRole(RoleName role) {
    Spoken spoken = drafted("driver", "workshop\nCRLF\nWHO?\n" + role.text() + "\n" + ENTERS);
    assertEquals(0, spoken.code(), spoken.err());
    var driver = DriverForms.DRIVER.readFile("draft.yaml", YamlFile.bytes(file()));
    assertEquals("workshop", driver.name());
    holdsToTheSchema(SchemaCommand.Kind.driver);
  }

  @Test
  void aLaboratoryFromFiveAnswers() {
    String typed =
        "Osk room #2\nHarbour Road 4, 'Osk'\nroom@osk.invalid\nno. 7\nOSK-{year}-{run}\nA. Quist\n";
    Spoken spoken = drafted("laboratory", typed);
    assertEquals(0, spoken.code(), spoken.err());
    assertTrue(spoken.err().contains("gives every run the same number"), spoken.err());
    Laboratory laboratory = LaboratoryFile.read(file());
    assertEquals("Osk room #2", laboratory.name());
    assertEquals(List.of("Harbour Road 4", "'Osk'"), laboratory.address());
    assertEquals("OSK-{year}-{run}", laboratory.numbering().pattern());
    holdsToTheSchema(SchemaCommand.Kind.laboratory);
  }

  @Test
  void aDraftThatDoesNotValidateIsShownAndNotWritten() {
    Spoken spoken = drafted("driver", "workshop\nLF\nWHO?\nload\nSHORT\nR {resistanz}\n" + ENTERS);
    assertEquals(2, spoken.code());
    assertTrue(spoken.err().contains("driver: workshop"), spoken.err());
    assertFalse(Files.exists(file()));
  }

  @ParameterizedTest
  @EnumSource(NewCommand.Kind.class)
  void aFileThatIsThereIsNeverTouched(NewCommand.Kind kind) throws IOException {
    Files.writeString(file(), "mine");
    Spoken spoken = drafted(kind.name(), ENTERS);
    assertEquals(2, spoken.code());
    assertEquals(
        "millrace: "
            + file()
            + ": this file is there already; expected a new one, since nothing is overwritten."
            + " Name another file."
            + System.lineSeparator(),
        spoken.err());
    assertEquals("mine", Files.readString(file()));
  }

  @ParameterizedTest
  @EnumSource(NewCommand.Kind.class)
  void answersThatEndTooEarlyLeaveNothingBehind(NewCommand.Kind kind) {
    Spoken spoken = drafted(kind.name(), "");
    assertEquals(2, spoken.code());
    assertTrue(spoken.err().contains("the answers end too early"), spoken.err());
    assertFalse(Files.exists(file()));
  }
}
