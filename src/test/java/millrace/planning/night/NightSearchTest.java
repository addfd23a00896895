// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.analysis.conformity.Judge;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.DecisionRule;
import millrace.evidence.Limit;
import millrace.evidence.Result;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import millrace.night.RunInputs;
import millrace.planning.LimitForecast;
import millrace.sequence.Plan;
import millrace.sequence.Schedule;
import millrace.sequence.UsualBenchSpeeds;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * The search against an exhaustive one over every night of a small scope, on a bench whose U is a
 * closed form of the points of the plan: that of the slope of a line by least squares, and of a
 * mean less a zero.
 */
class NightSearchTest {
  private static final String RANGE = "1mA";
  private static final double AMPERES = 1e-3;
  private static final double SAME = 1.05;
  private static final double FAR_SMALLER = 0.05;
  private static final Path SHEET = Path.of("examples/fx-3.datasheet.yaml");

  private static final NightScope SCOPE =
      new NightScope(
          "a night",
          List.of(RANGE),
          List.of(),
          Set.of(ResultQuantity.CURRENT_ERROR),
          23,
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          Optional.empty(),
          false,
          List.of(),
          2);

  /** White noise of a reading and an error of each load of its own, both in ppm. */
  private record ClosedForm(double noise, double ofLoad, String sheet) implements NightForecaster {
    private RunInputs inputs(String sequence) {
      return RunInputs.of("night.yaml", sequence, SHEET.toString(), sheet);
    }

    @Override
    public Map<String, Double> secondsByPart(String sequence) {
      RunInputs inputs = inputs(sequence);
      return Schedule.of(
              inputs.plan(List.of()),
              inputs.datasheet(),
              UsualBenchSpeeds.of(50, Double.POSITIVE_INFINITY))
          .partsS();
    }

    @Override
    public List<LimitForecast> limits(String sequence, int draws) {
      Plan plan = inputs(sequence).plan(List.of());
      List<Double> volts = new ArrayList<>();
      double weight = 0;
      double variance = 0;
      double zero = 0;
      for (Plan.PlannedPoint point : plan.points()) {
        int n = point.rules().readings().count();
        if (point.task().word().equals("zero")) {
          zero = noise * noise / n;
        } else if (point.task().word().isEmpty()) {
          volts.add(point.conditions().loadOhm().getAsDouble() * AMPERES);
          variance = noise * noise / n + ofLoad * ofLoad;
          weight += 1 / variance;
        }
      }
      double mean = volts.stream().mapToDouble(v -> v).average().orElseThrow();
      double squares = volts.stream().mapToDouble(v -> (v - mean) * (v - mean)).sum();
      return List.of(
          limit(ResultQuantity.LOAD_REGULATION, Math.sqrt(variance / squares)),
          limit(ResultQuantity.CURRENT_ERROR, Math.sqrt(1 / weight + zero)));
    }

    private static LimitForecast limit(ResultQuantity quantity, double u) {
      ComputationOutcome outcome =
          new ComputationOutcome.Value(
              0,
              Optional.of(
                  new ComputationOutcome.Uncertainty(
                      u, 2 * u, -2 * u, 2 * u, 0.9545, 2, OptionalDouble.empty())),
              10);
      Limit limit = new Limit(OptionalDouble.of(-30), OptionalDouble.of(30));
      Result result =
          new Result(
              quantity,
              Optional.of(RANGE),
              ResultConditions.NONE,
              outcome,
              Optional.of(Judge.of(outcome, limit, new DecisionRule(DecisionRule.Kind.GUARDED, 1))),
              List.of(),
              Optional.empty(),
              "none",
              List.of());
      return new LimitForecast(result, LimitForecast.Answer.PASS, Optional.empty());
    }
  }

  /** Every night of the scope. */
  private static List<NightDesign> every() {
    List<NightDesign> all = new ArrayList<>(List.of(NightDesign.richest(SCOPE)));
    for (NightLever lever : NightLever.values()) {
      NightAmount amount = all.get(0).amounts(lever).get(0);
      Map<NightDesign, NightDesign> more = new LinkedHashMap<>();
      for (NightDesign design : all) {
        NightDesign most = design.at(amount, 0);
        for (int step = 0; step <= most.lessOf(amount); step++) {
          NightDesign other = design.at(amount, step);
          more.put(other, other);
        }
      }
      all = new ArrayList<>(more.values());
    }
    return all;
  }

  private static boolean isAsSmall(List<LimitForecast> limits, List<LimitForecast> theirs) {
    for (int i = 0; i < limits.size(); i++) {
      double most =
          Math.max(
              theirs.get(i).expandedU().orElseThrow() * SAME,
              limits.get(i).largestU().orElseThrow() * FAR_SMALLER);
      if (limits.get(i).expandedU().orElseThrow() > most) {
        return false;
      }
    }
    return true;
  }

  /** Limits far from every U, so that it is the U of the other night that counts. */
  @ParameterizedTest
  @CsvSource({"20, 0, 12, 2, 5", "20, 5, 9, 1, 20", "25, 2, 17, 1, 20", "5, 5, 4, 2, 3"})
  void theShortestNightIsWithinATwentiethOfThatOfAnExhaustiveSearch(
      double noise, double ofLoad, int readings, int ways, int zeros) throws IOException {
    ClosedForm bench = new ClosedForm(noise, ofLoad, Files.readString(SHEET));
    List<LimitForecast> theirs = bench.limits(other(readings, ways, zeros), 1);
    NightPlan plan =
        new NightSearch(bench, () -> 0, night -> {}).find(SCOPE, OptionalDouble.empty(), theirs);
    assertTrue(
        isAsSmall(plan.night().limits(), theirs), () -> plan.night().design().steps().toString());
    List<NightDesign> every = every();
    assertEquals(2 * 7 * 25 * 2 * 3, every.size());
    double least = Double.POSITIVE_INFINITY;
    for (NightDesign design : every) {
      String sequence = NightSequence.of(design);
      if (isAsSmall(bench.limits(sequence, 1), theirs)) {
        least = Math.min(least, TriedNight.hours(bench.secondsByPart(sequence)));
      }
    }
    assertEquals(
        1, plan.night().hours() / least, SAME - 1, () -> plan.night().design().steps().toString());
  }

  private static String other(int readings, int ways, int zeros) {
    return """
    sequence: by hand
    readings: {count: %s}
    steps:
      - in ranges: ['1mA']
        do:
          - zero: {count: %s}
          - over loads: {share of compliance: [0 %%, 20 %%, 40 %%, 60 %%, 80 %%]}
            sweep: %s
    """
        .formatted(readings, zeros, ways == 2 ? "both" : "up");
  }
}
