// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.time.ZoneOffset;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.fault.BadInputException;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import org.junit.jupiter.api.Test;

/** Columns that an import knows, does not know, or finds empty. */
class ImportColumnsTest extends Importing {
  private static final String NEEDED = "range,nominal_A,current_A";

  private RunReader reader(ImportedRun run) {
    return logbook.reader(run.run());
  }

  @Test
  void namesAllUnknownColumnsInOneLine() throws IOException {
    ImportedRun run = imports("mood," + NEEDED + ",weather\nfair,1mA,0.001,0.001,dry\n").get(0);

    assertTrue(
        run.notes().contains("columns 'mood', 'weather' are kept but not used"),
        run.notes().toString());
  }

  @Test
  void knowsWhatTheReadingsBelongTo() throws IOException {
    RunStart start =
        reader(
                imports(
                        "unit,batch,tag,operator,bench,"
                            + NEEDED
                            + "\nU1,B7,first,nn,north,1mA,0.001,0.001\n")
                    .get(0))
            .summary()
            .start();

    assertEquals(
        new RunStart.People(Optional.of("nn"), Optional.of("B7"), Optional.of("first")),
        start.people());
    assertEquals("north", start.facts().bench().orElseThrow());
  }

  @Test
  void takesWhatTheFileDoesNotSayFromWhoeverImports() throws IOException {
    Path file = file("batch," + NEEDED + "\nB7,1mA,0.001,0.001\n");
    Import.Circumstances with =
        new Import.Circumstances(
            Optional.empty(),
            new RunStart.People(Optional.of("nn"), Optional.of("B8"), Optional.empty()),
            Optional.of("south"),
            Map.of(),
            "0.0.1",
            NOW,
            ZoneOffset.UTC);

    RunStart start = reader(Import.check(file).into(logbook, with).get(0)).summary().start();

    assertEquals(
        new RunStart.People(Optional.of("nn"), Optional.of("B7"), Optional.empty()),
        start.people());
    assertEquals("south", start.facts().bench().orElseThrow());
  }

  @Test
  void refusesTwoBatchesOfOneUnit() {
    BadInputException refused =
        assertThrows(
            BadInputException.class,
            () -> imports("batch," + NEEDED + "\nB7,1mA,0.001,0.001\nB8,1mA,0.001,0.001\n"));

    assertTrue(
        refused.getMessage().contains("night.csv:3:1: batch is 'B8' here and 'B7' in line 2"),
        refused.getMessage());
  }

  @Test
  void anOptionalColumnThatIsWhollyEmptyIsAsIfAbsent() throws IOException {
    ImportedRun run =
        imports(
                "unit,load_ohm,taken_at,direction,u_current_A,"
                    + NEEDED
                    + "\n,,,,,1mA,0.001,0.001\n,,,,,1mA,0.001,0.001\n")
            .get(0);

    assertEquals("night", run.unit());
    assertEquals(OptionalDouble.empty(), reader(run).points().get(0).conditions().loadOhm());
    assertEquals(Optional.empty(), reader(run).summary().start().measuredAt());
  }

  @Test
  void aColumnThatIsFilledInSomeRowsAloneIsRefused() {
    String message =
        assertThrows(
                BadInputException.class,
                () -> imports("load_ohm," + NEEDED + "\n,1mA,0.001,0.001\n100,1mA,0.001,0.001\n"))
            .getMessage();

    assertTrue(
        message.contains(
            "night.csv:3:1: column 'load_ohm' is filled here and empty in line 2; expected it"
                + " filled in each row, or empty in each."),
        message);
  }

  @Test
  void anUncertaintyBesideAnEmptyColumnSaysNothing() {
    String message =
        assertThrows(
                BadInputException.class,
                () ->
                    imports(
                        "terminal_voltage_V,u_terminal_voltage_V,"
                            + NEEDED
                            + "\n,0.1,1mA,0.001,0.001\n"))
            .getMessage();

    assertTrue(message.contains("is there without what it belongs to"), message);
  }

  @Test
  void refusesADistributionThatNobodyKnows() {
    String message =
        assertThrows(
                BadInputException.class,
                () ->
                    imports(
                        "u_current_A,u_distribution,"
                            + NEEDED
                            + "\n1e-9,rectangle,1mA,0.001,0.001\n"))
            .getMessage();

    assertTrue(
        message.contains("'rectangle' is no distribution; expected 'normal', 't', 'rectangular'"),
        message);
    assertTrue(message.contains("Did you mean 'rectangular'?"), message);
  }
}
