// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import millrace.Needs;
import millrace.evidence.IncidentKind;
import millrace.logbook.Logbook;
import millrace.logbook.RunState;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Ctrl-C at a question acts at once: nobody has to press Enter first. */
@Timeout(120)
class StoppedQuestionIT {
  private static final String SEQUENCE =
      """
      sequence: a question
      readings: {count: 2, line cycles: 1}
      steps:
        - in ranges: [1mA]
          do:
            - zero
            - ask: Is the lid closed?
            - over loads: {share of compliance: [0 %]}
      """;

  @TempDir private Path folder;

  @Test
  void aRunThatWaitsForAnAnswerStopsAndAsksAgainWhenItIsResumed() throws Exception {
    Needs.interrupts();
    Path sequence = Files.writeString(folder.resolve("question.yaml"), SEQUENCE);
    Path logbook = folder.resolve("question.db");
    RunProcess run =
        RunProcess.attended(
            folder,
            "run",
            sequence.toString(),
            "--unit",
            "FX3-00042",
            "--datasheet",
            "examples/fx-3.datasheet.yaml",
            "--simulated",
            "--logbook",
            logbook.toString());
    run.says(folder.resolve("err"), "? Is the lid closed?");
    run.signal("INT");
    assertEquals(130, run.ended(), run.said());
    assertTrue(run.said().contains("the bench is in its safe state"), run.said());
    assertTrue(run.said().contains("Go on with: millrace run --resume 1"), run.said());
    try (Logbook book = Logbook.readOnly(logbook)) {
      assertEquals(RunState.STOPPED, book.find("1").state());
      assertTrue(
          notEmpty(book.reader(1).incidents()).stream()
              .noneMatch(i -> i.kind() == IncidentKind.OPERATOR),
          "an answer that nobody gave is in the logbook");
    }
    RunProcess resumed =
        RunProcess.attended(folder, "run", "--resume", "1", "--logbook", logbook.toString());
    resumed.says(folder.resolve("err"), "? Is the lid closed?");
    resumed.process().outputWriter().append("yes\n").flush();
    int code = resumed.ended();
    assertTrue(code == 0 || code == 7, code + ": " + resumed.said());
  }

  @Test
  void aProductionStationThatWaitsForAScanEnds() throws Exception {
    Needs.interrupts();
    RunProcess station =
        RunProcess.attended(
            folder,
            "production",
            "sequences/production-board-test.yaml",
            "--datasheet",
            "examples/fx-3.datasheet.yaml",
            "--simulated",
            "--operator",
            "ANNE",
            "--shift",
            "early",
            "--logbook",
            folder.resolve("station.db").toString());
    station.says(folder.resolve("out"), "Scan a board, or 'end':");
    station.signal("INT");
    assertEquals(130, station.ended(), station.said());
  }
}
