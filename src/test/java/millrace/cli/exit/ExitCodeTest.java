// SPDX-License-Identifier: Apache-2.0
package millrace.cli.exit;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import millrace.fault.InterlockException;
import millrace.fault.TrialLapFailedException;
import millrace.fault.UnsafeBenchException;
import org.junit.jupiter.api.Test;

class ExitCodeTest {
  /** What a script may rely on: of several codes the one that matters most. */
  @Test
  void theOneThatMattersMostTakesPrecedence() {
    List<Integer> order = List.of(2, 8, 4, 9, 5, 3, 129, 130, 143, 6, 1, 7, 0);
    List<ExitCode> left = new ArrayList<>(Arrays.asList(ExitCode.values()));
    List<Integer> found = new ArrayList<>();
    while (!left.isEmpty()) {
      ExitCode worst = ExitCode.worst(left);
      found.add(worst.number());
      left.remove(worst);
    }
    assertEquals(order, found);
  }

  @Test
  void aTrialLapIsToldFromAnInterlock() {
    assertEquals(9, ExitCode.of(new TrialLapFailedException("trial lap")).number());
    assertEquals(4, ExitCode.of(new InterlockException("too hot")).number());
  }

  @Test
  void aBenchThatMayNotBeSafeIsWorseThanWhatStoppedTheRun() {
    TrialLapFailedException lap = new TrialLapFailedException("trial lap");
    lap.addSuppressed(new UnsafeBenchException("the supply may be on"));
    assertEquals(8, ExitCode.of(lap).number());
  }
}
