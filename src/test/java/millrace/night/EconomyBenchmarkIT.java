// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultQuantity;
import millrace.night.ComparedNight.Remainder;
import millrace.sim.truth.SimulatedUnit;
import millrace.sim.truth.SimulatedUnitSpec;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The shipped overnight sequence, whole, against common practice on the same simulated benches:
 * hours by part, uncertainties, and how often what is stated holds the truth. It prints its figures
 * into {@code target/benchmarks/economy.txt}. Hours are virtual, so that they may be asserted.
 */
@Tag("campaign")
class EconomyBenchmarkIT {
  private static final int NIGHTS = Integer.getInteger("millrace.nights", 12);
  private static final double[] TEMPERATURES = {5, 23, 35, 50};

  /** What the soak left is held against what is asked; common practice reads no check standard. */
  private static final Set<String> APART =
      Set.of("what the soak left", "check standard reading", "meter drift seen in another range");

  private static final List<ResultQuantity> COMPARED =
      List.of(
          ResultQuantity.CURRENT,
          ResultQuantity.CURRENT_ERROR,
          ResultQuantity.OUTPUT_CONDUCTANCE,
          ResultQuantity.COMPLIANCE_VOLTAGE,
          ResultQuantity.TEMPCO);

  @TempDir private Path folder;
  private final List<String> lines = new ArrayList<>();
  private final Map<ResultQuantity, int[]> covered = new LinkedHashMap<>();
  private int soaks;
  private int soaksHeld;
  private double mostLeftPpm;

  private void say(String format, Object... values) {
    lines.add(String.format(Locale.ROOT, format, values));
  }

  /** Standard uncertainty of each result without what stands apart. */
  private static Map<String, Double> others(ComparedNight night) {
    Map<String, Double> others = new LinkedHashMap<>();
    for (Result r : night.assessment(0).results()) {
      if (COMPARED.contains(r.quantity()) && r.outcome() instanceof ComputationOutcome.Value) {
        double squares = 0;
        for (BudgetComponent c : r.budget()) {
          squares += APART.contains(c.component()) ? 0 : c.contribution() * c.contribution();
        }
        others.put(name(r), Math.sqrt(squares));
      }
    }
    return others;
  }

  private static String name(Result r) {
    return r.quantity().key() + " " + r.range().orElse("") + " " + nearest(r);
  }

  /** The set temperature of a result, as text; empty for what holds at no one temperature. */
  private static String nearest(Result r) {
    if (r.at().number(ResultConditionKey.TEMPERATURE_DEGC).isEmpty()) {
      return "";
    }
    double degC = r.at().number(ResultConditionKey.TEMPERATURE_DEGC).getAsDouble();
    double best = TEMPERATURES[0];
    for (double t : TEMPERATURES) {
      best = Math.abs(t - degC) < Math.abs(best - degC) ? t : best;
    }
    return "at " + best;
  }

  private void compare(Map<String, Double> ours, Map<String, Double> theirs) {
    for (ResultQuantity quantity : COMPARED) {
      double[] ratios =
          ours.entrySet().stream()
              .filter(e -> e.getKey().startsWith(quantity.key() + " "))
              .filter(e -> theirs.containsKey(e.getKey()))
              .mapToDouble(e -> e.getValue() / theirs.get(e.getKey()))
              .sorted()
              .toArray();
      say(
          "  %-22s n %2d: median %.2f, largest %.2f of common practice's",
          quantity.key(), ratios.length, ratios[ratios.length / 2], ratios[ratios.length - 1]);
      assertTrue(ratios[ratios.length / 2] <= 1.01, quantity + " " + ratios[ratios.length / 2]);
    }
  }

  private void judge(ComparedNight night, int unit) {
    for (Result r : night.assessment(unit).results()) {
      boolean atFoot = r.at().number(ResultConditionKey.TERMINAL_VOLTAGE_V).orElse(0) == 0;
      if (COMPARED.contains(r.quantity())
          && atFoot
          && r.outcome() instanceof ComputationOutcome.Value value
          && value.uncertainty().isPresent()) {
        double truth = truth(r, night.unit(unit));
        ComputationOutcome.Uncertainty u = value.uncertainty().get();
        int[] count = covered.computeIfAbsent(r.quantity(), q -> new int[2]);
        count[0]++;
        count[1] += truth >= u.lower() && truth <= u.upper() ? 1 : 0;
      }
    }
    for (Remainder left : night.left(unit)) {
      soaks++;
      soaksHeld += Math.abs(left.truePpm()) <= left.statedPpm() ? 1 : 0;
      mostLeftPpm = Math.max(mostLeftPpm, Math.abs(left.truePpm()));
    }
  }

  private static double truth(Result r, SimulatedUnit unit) {
    String range = r.range().orElseThrow();
    double degC =
        r.at().number(ResultConditionKey.TEMPERATURE_DEGC).orElse(SimulatedUnitSpec.REFERENCE_DEGC);
    double nominal = unit.spec().range(range).orElseThrow().nominalA();
    return switch (r.quantity()) {
      case CURRENT -> unit.truth(range, degC).currentA(0);
      case CURRENT_ERROR -> (unit.truth(range, degC).currentA(0) / nominal - 1) * 1e6;
      case OUTPUT_CONDUCTANCE -> unit.truth(range, degC).line(1e-3).conductanceS();
      case COMPLIANCE_VOLTAGE -> unit.truth(range, degC).line(1e-3).complianceV();
      default -> unit.tempcoPerK(range, 0, List.of(23.0, 35.0, 50.0, 23.0, 5.0, 23.0)) * 1e6;
    };
  }

  private void hours(String what, ComparedNight night, double reference) {
    say("%s: %.2f h, %.2f of common practice", what, night.hours(), night.hours() / reference);
    night.parts().forEach((part, hours) -> say("  %-30s %.2f h", part, hours));
    say("  the preview said %.2f h", night.previewedHours());
    assertEquals(List.of(), night.mistreatments());
    assertEquals(1, night.previewedHours() / night.hours(), 0.1, what);
  }

  @Test
  void benchTimeAndUncertaintyAgainstCommonPractice() throws IOException {
    double least = CommonPractice.leastHours(5);
    say(
        "common practice, counting dwell, ramps, settling and the current's integration: %.2f h",
        least);
    Map<String, Double> theirs;
    try (ComparedNight practice =
        ComparedNight.of(folder, CommonPractice.sequence(folder), 1, 1_000)) {
      say("the same as this bench takes it, voltage and the meter's own zeros included:");
      practice.parts().forEach((part, hours) -> say("  %-30s %.2f h", part, hours));
      say("  in all %.2f h", practice.hours());
      theirs = others(practice);
    }
    Path shipped = ComparedNight.shipped(folder, "all");
    try (ComparedNight night = ComparedNight.of(folder, shipped, 1, 1_000)) {
      hours("one unit", night, least);
      assertTrue(night.hours() <= 0.6 * least);
      say("standard uncertainties without soak and check standard, same unit and bench:");
      compare(others(night), theirs);
      judge(night, 0);
    }
    try (ComparedNight night = ComparedNight.of(folder, shipped, 4, 1_001)) {
      hours("four units", night, 4 * least);
      assertTrue(night.hours() <= 4 * least / 3);
      for (int unit = 0; unit < 4; unit++) {
        judge(night, unit);
      }
    }
    for (long seed = 2_000; seed < 2_000 + NIGHTS; seed++) {
      try (ComparedNight night = ComparedNight.of(folder, shipped, 1, seed)) {
        judge(night, 0);
      }
    }
    coverage();
    ComparedNight.write(Path.of("target", "benchmarks", "economy.txt"), lines);
    assertTrue(mostLeftPpm <= 2, "left " + mostLeftPpm);
  }

  private void coverage() {
    say(
        "soaks: at the first reading after it at most %.2f ppm were left; what was stated holds in"
            + " %d of %d",
        mostLeftPpm, soaksHeld, soaks);
    covered.forEach(
        (quantity, count) ->
            say(
                "  %-22s the stated interval holds the truth in %d of %d (%.3f)",
                quantity.key(), count[1], count[0], count[1] / (double) count[0]));
  }
}
