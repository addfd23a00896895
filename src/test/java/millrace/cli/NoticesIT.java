// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import millrace.Needs;
import millrace.sim.fault.FaultPlan;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A script of the user's is called with the facts in its environment, and never stops a run. */
@Timeout(120)
class NoticesIT {
  private static final String SEQUENCE =
      """
      sequence: a few points
      readings: {count: 2, line cycles: 1}
      settle: {wait: 100 ms}
      on failure: stop
      steps:
        - in ranges: [1mA]
          do:
            - ask: Is the lid closed?
            - over loads: {share of compliance: [0 %, 50 %]}
      """;

  @TempDir private Path folder;

  @BeforeEach
  void needsAShell() {
    Needs.program("sh");
  }

  private Path told() {
    return folder.resolve("told");
  }

  /** A script that writes down what it was told; facts that are empty stand out. */
  private String script(String last) throws IOException {
    Path script = folder.resolve("notify.sh");
    Files.writeString(
        script,
        """
        echo "$MILLRACE_EVENT|$MILLRACE_RUN|$MILLRACE_UNIT|${MILLRACE_LOGBOOK##*/}|$MILLRACE_EXIT|$MILLRACE_TEXT" >> '%s'
        %s
        """
            .formatted(told(), last));
    return "sh '" + script + "'";
  }

  private Spoken run(String notify, String... onBench) throws IOException {
    Path written = Files.writeString(folder.resolve("few.yaml"), SEQUENCE);
    List<String> words = new ArrayList<>(List.of("run", written.toString(), "--unattended"));
    words.addAll(List.of("--unit", "FX3-00042", "--datasheet", "examples/fx-3.datasheet.yaml"));
    words.addAll(List.of("--logbook", folder.resolve("few.db").toString(), "--notify", notify));
    words.addAll(List.of(onBench));
    return Spoken.by(words.toArray(String[]::new));
  }

  @Test
  void aQuestionAndTheEndAreToldWithTheirFacts() throws IOException {
    Spoken said = run(script("exit 0"), "--simulated");
    String code = Integer.toString(said.code());
    assertEquals(
        List.of(
            "needs a person|1|FX3-00042|few.db||a question waits for an answer: Is the lid closed?",
            "finished|1|FX3-00042|few.db|%s|the run finished with exit code %s"
                .formatted(code, code)),
        Files.readAllLines(told()));
  }

  @Test
  void aRunThatAnInterlockStopsIsToldWithItsReasonAndItsExitCode() throws IOException {
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      served.rewrite("  free disk", "  humidity: [60 %, 90 %]\n  free disk");
      String speed = Integer.toString(Served.SPEED);
      Spoken said = run(script("exit 0"), "--bench", served.file(), "--speed", speed);
      assertEquals(4, said.code(), said.err());
    }
    List<String> told = Files.readAllLines(told());
    assertEquals(1, told.size(), told.toString());
    assertTrue(
        told.get(0).startsWith("failed|1|FX3-00042|few.db|4|interlock: room humidity is 4"),
        told.get(0));
  }
}
