// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.uncertainty;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import millrace.analysis.uncertainty.MonteCarlo.Finding;
import millrace.analysis.uncertainty.MonteCarlo.Plan;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;

/** Several results of the same drawn inputs, each with as many trials as it needs. */
class MonteCarloOfSeveralTest {
  private static final Plan PLAN = new Plan(new Seeds(5), 0.95, 60_000, true);
  private static final List<Estimate> INPUTS =
      List.of(
          Estimate.exact(1).with(ErrorSource.normal("noise", ErrorSource.POINT, "a", 0.1, "1"), 1),
          Estimate.exact(2).with(ErrorSource.normal("noise", ErrorSource.POINT, "b", 0.2, "1"), 1));

  /** Tells the first result at its second batch, the other never. */
  private static final MonteCarlo.Observer FIRST_IS_TOLD =
      new MonteCarlo.Observer() {
        @Override
        public boolean told(int output, Finding found) {
          return output == 0;
        }
      };

  private static List<Optional<Finding>> found(AtomicInteger asked) {
    MonteCarlo.Models models =
        (drawn, ended) -> {
          asked.addAndGet(ended[0] ? 0 : 1);
          return new double[] {ended[0] ? Double.NaN : drawn[0], drawn[1]};
        };
    return MonteCarlo.all(INPUTS, 2, models, PLAN, FIRST_IS_TOLD);
  }

  @Test
  void oneThatIsToldIsAskedNoMoreWhileTheOtherGoesOn() {
    AtomicInteger asked = new AtomicInteger();

    List<Optional<Finding>> found = found(asked);

    assertEquals(20_000, asked.get());
    assertEquals(20_000, found.get(0).orElseThrow().trials());
    assertEquals(0, found.get(0).orElseThrow().failed());
    assertEquals(60_000, found.get(1).orElseThrow().trials());
  }

  /** A trial draws the same whatever is asked of it. */
  @Test
  void theOtherGetsTheFiguresThatItGetsAlone() {
    Finding beside = found(new AtomicInteger()).get(1).orElseThrow();

    MonteCarlo.Models alone = (drawn, ended) -> new double[] {drawn[1]};
    Finding by =
        MonteCarlo.all(INPUTS, 1, alone, PLAN, MonteCarlo.Observer.NONE).get(0).orElseThrow();
    assertEquals(by, beside);
  }
}
