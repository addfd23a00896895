// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import millrace.Needs;
import millrace.logbook.Logbook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * A run whose logbook cannot grow any more, by a limit of the operating system on the size of
 * files: it stops with the logbook's exit code, and what was shown is whole.
 */
@Timeout(120)
class FullDiskIT {
  private static final String SEQUENCE =
      """
      sequence: a run that fills the disk
      readings: {count: 20, line cycles: 1}
      settle: {wait: 100 ms}
      steps:
        - in ranges: all
          do:
            - over loads: {share of compliance: {from: 0 %, to: 80 %, points: 100}}
              sweep: both
      """;

  @TempDir private Path folder;

  @Test
  void theRunStopsAndNothingThatWasShownIsLost() throws Exception {
    Needs.program("bash");
    Path sequence = Files.writeString(folder.resolve("full.yaml"), SEQUENCE);
    Path logbook = folder.resolve("full.db");
    Path notices = folder.resolve("notices");
    List<String> command =
        new ArrayList<>(List.of("bash", "-c", "ulimit -f 2200; exec \"$@\"", "millrace"));
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(List.of("-cp", System.getProperty("java.class.path"), "millrace.cli.Main"));
    command.addAll(List.of("run", sequence.toString(), "--unit", "FX3-00042", "--simulated"));
    command.addAll(List.of("--datasheet", "examples/fx-3.datasheet.yaml"));
    command.addAll(List.of("--logbook", logbook.toString(), "--notices", notices.toString()));
    Process process =
        new ProcessBuilder(command)
            .redirectOutput(folder.resolve("out").toFile())
            .redirectError(folder.resolve("err").toFile())
            .start();
    assertTrue(process.waitFor(100, TimeUnit.SECONDS));
    String said = Files.readString(folder.resolve("err"));
    assertEquals(5, process.exitValue(), said);
    assertTrue(said.contains("Check the disk"), said);
    long shown = Files.readAllLines(notices).stream().filter(l -> l.contains(" point: ")).count();
    try (Logbook book = Logbook.open(logbook)) {
      assertTrue(shown > 0);
      assertTrue(book.reader(1).points().size() >= shown, shown + " points were shown");
      assertTrue(book.verify(1).faults().stream().noneMatch(f -> f.contains("damaged")));
    }
  }
}
