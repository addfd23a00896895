// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import millrace.Needs;
import millrace.cli.option.CommandToType;
import millrace.evidence.PointState;
import millrace.logbook.Logbook;
import millrace.logbook.RunState;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Ctrl-C in the middle of the demo, which is the first thing that many a newcomer does. */
@Timeout(120)
class StoppedDemoIT {
  @TempDir private Path folder;

  @Test
  void ctrlCLeavesASentenceTheSafeStateAndAWayOn() throws Exception {
    Needs.interrupts();
    Process demo =
        new ProcessBuilder(
                List.of(
                    Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                    "-cp",
                    System.getProperty("java.class.path"),
                    "millrace.cli.Main",
                    "demo",
                    "--folder",
                    folder.toString()))
            .redirectOutput(folder.resolve("out").toFile())
            .start();
    StringBuilder said = new StringBuilder();
    try (BufferedReader lines = demo.errorReader(StandardCharsets.UTF_8)) {
      for (String line = lines.readLine(); line != null; line = lines.readLine()) {
        said.append(line).append('\n');
        if (line.contains("point 1 of")) {
          new ProcessBuilder("kill", "-INT", "" + demo.pid()).start().waitFor();
        }
      }
      assertTrue(demo.waitFor(60, TimeUnit.SECONDS));
    } finally {
      demo.destroyForcibly();
    }
    assertEquals(130, demo.exitValue(), said.toString());
    Path logbook = folder.resolve("demo.db");
    for (String words :
        List.of(
            "millrace: stopping; the bench goes to its safe state first.",
            "the bench is in its safe state",
            "Go on with: millrace run --resume 1 --logbook "
                + CommandToType.word(logbook.toString()))) {
      assertTrue(said.toString().contains(words), said.toString());
    }
    try (Logbook book = Logbook.readOnly(logbook)) {
      assertEquals(RunState.STOPPED, book.find("1").state());
      assertTrue(
          book.reader(1).points().stream().noneMatch(p -> p.state() == PointState.OPEN),
          "a point was left half done");
    }
  }
}
