// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.random.RandomGenerator;
import millrace.analysis.load.Sweeps.Bench;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;

/**
 * On a rounded knee two breaks of two straight segments may fit alike. Weights that each trial
 * estimated anew let the break jump from one to the other, far beyond what readings scatter
 * (methods.md 2.5, 3.4).
 */
class KneeTrialsTest {
  private static final LoadSweepRequest QUESTION = LoadSweepRequest.of("1mA", 1e-3, 0.9545);
  private static final double NOISE_V = 1e-5;

  private static List<LoadPoint> sweep(double kneeV, RandomGenerator chance) {
    return Sweeps.measured(
            Sweeps.rounded(1e-3, 2e-9, kneeV, 500, 0.3),
            Sweeps.loads(13e3, 25),
            Bench.noisy(1e-11),
            chance)
        .stream()
        .map(p -> with(p, p.voltageV().with(noise(p), 1), p.currentA()))
        .toList();
  }

  private static ErrorSource noise(LoadPoint p) {
    return ErrorSource.normal("noise of V", ErrorSource.POINT, p.key(), NOISE_V, "V");
  }

  private static LoadPoint drawn(LoadPoint p, RandomGenerator chance) {
    return with(p, drawn(p.voltageV(), chance), drawn(p.currentA(), chance));
  }

  private static Estimate drawn(Estimate e, RandomGenerator chance) {
    double u = e.pointUncertainty();
    return Estimate.drawn(e.value() + u * chance.nextGaussian(), u, 0);
  }

  private static LoadPoint with(LoadPoint p, Estimate voltageV, Estimate currentA) {
    return new LoadPoint(
        p.key(), voltageV, currentA, p.loadOhm(), p.timeS(), p.unsteady(), p.kneeOnly());
  }

  private static Result knee(LoadCurve curve) {
    return LoadResults.of(curve).stream()
        .filter(r -> r.quantity() == ResultQuantity.KNEE_VOLTAGE)
        .findFirst()
        .orElseThrow();
  }

  private static double volt(Result knee) {
    return ((ComputationOutcome.Value) knee.outcome()).value();
  }

  @Test
  void aTrialMovesTheBreakByWhatReadingsScatterAndNoMore() {
    RandomGenerator chance = new Seeds(8).stream("knees");
    for (int k = 0; k < 40; k++) {
      List<LoadPoint> points = sweep(9 + 0.025 * k, chance);
      LoadCurve curve = LoadCurve.of(points, QUESTION).orElseThrow();
      Result measured = knee(curve);
      assertTrue(measured.notes().contains(KneeVoltage.ROUNDED), measured::toString);
      for (int t = 0; t < 25; t++) {
        List<LoadPoint> moved = points.stream().map(p -> drawn(p, chance)).toList();
        double again = volt(knee(curve.again(moved, QUESTION)));
        assertEquals(volt(measured), again, 100 * NOISE_V, measured::toString);
      }
    }
  }
}
