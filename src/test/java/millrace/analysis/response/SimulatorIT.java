// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import millrace.Needs;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * The stored curves are what the circuit simulator gives for the netlists beside them: {@code
 * curves.sh} is run again and its output held against {@code curves.csv}.
 */
@Tag("campaign")
class SimulatorIT {
  /** Of the nominal current: another build of the simulator converges to other last digits. */
  private static final double AGREES = 2e-9;

  private static final double LEAST_FLOW = 0.99;

  @Test
  void theStoredCurvesComeBack() throws IOException, InterruptedException, URISyntaxException {
    Needs.program("ngspice");
    Path folder = Path.of(SimulatorIT.class.getResource("curves.csv").toURI()).getParent();
    Process script =
        new ProcessBuilder("sh", folder.resolve("curves.sh").toString())
            .redirectError(ProcessBuilder.Redirect.DISCARD)
            .start();
    List<String> again =
        new String(script.getInputStream().readAllBytes(), StandardCharsets.UTF_8).lines().toList();
    assertEquals(0, script.waitFor());
    List<String> stored = Files.readAllLines(folder.resolve("curves.csv"));
    assertEquals(stored.size(), again.size());
    assertEquals(stored.get(0), again.get(0));
    for (int i = 1; i < stored.size(); i++) {
      String[] was = stored.get(i).split(",");
      String[] now = again.get(i).split(",");
      double nominal = Double.parseDouble(was[1]);
      double difference = Math.abs(Double.parseDouble(was[4]) - Double.parseDouble(now[4]));
      boolean flows = Double.parseDouble(was[4]) > LEAST_FLOW * nominal;
      assertTrue(!flows || difference < AGREES * nominal, stored.get(i) + " / " + again.get(i));
    }
  }
}
