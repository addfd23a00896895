// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
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
import org.junit.jupiter.api.Test;

/** On a bench with white noise, of which one range misses a limit whatever is measured. */
class NightTrimmingTest {
  private static final Path SHEET = Path.of("examples/fx-3.datasheet.yaml");
  private static final String GOOD = "1mA";
  private static final String WIDE = "1uA";
  private static final double LIMIT = 1000;
  private static final double OF_ONE_READING = 200;
  private static final double ALWAYS = 120;

  private static final NightScope SCOPE =
      new NightScope(
          "a night",
          List.of(GOOD, WIDE),
          List.of(),
          Set.of(ResultQuantity.CURRENT_ERROR),
          23,
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          Optional.empty(),
          false,
          List.of(),
          2);

  /** U falls with the root of the readings; that of one limit does not. */
  private record WhiteNoise(String sheet) implements NightForecaster {
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
      List<LimitForecast> limits = new ArrayList<>();
      for (String range : SCOPE.ranges()) {
        limits.add(
            limit(
                ResultQuantity.CURRENT_ERROR,
                range,
                OF_ONE_READING / Math.sqrt(readings(sequence, range))));
      }
      limits.add(limit(ResultQuantity.LOAD_REGULATION, WIDE, ALWAYS));
      return limits;
    }

    private int readings(String sequence, String range) {
      return inputs(sequence).plan(List.of()).points().stream()
          .filter(p -> p.task().word().isEmpty())
          .filter(p -> p.conditions().range().equals(Optional.of(range)))
          .mapToInt(WhiteNoise::count)
          .max()
          .orElseThrow();
    }

    private static int count(Plan.PlannedPoint point) {
      return point.rules().readings().count();
    }

    private static LimitForecast limit(ResultQuantity quantity, String range, double expanded) {
      ComputationOutcome outcome =
          new ComputationOutcome.Value(
              0,
              Optional.of(
                  new ComputationOutcome.Uncertainty(
                      expanded / 2,
                      expanded,
                      -expanded,
                      expanded,
                      0.9545,
                      2,
                      OptionalDouble.empty())),
              10);
      Limit limit = new Limit(OptionalDouble.of(-LIMIT), OptionalDouble.of(LIMIT));
      Result result =
          new Result(
              quantity,
              Optional.of(range),
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

  /** 200/sqrt(12) is 57.7, 200/sqrt(11) is 60.3; 5 % apart is the same as 57. */
  @Test
  void aRangeThatMissesALimitDoesNotKeepWhatAnotherCanSpare() throws IOException {
    WhiteNoise bench = new WhiteNoise(Files.readString(SHEET));
    NightTrials trials = new NightTrials(bench, () -> 0, night -> {});
    TriedNight richest = trials.sure(NightDesign.richest(SCOPE));
    List<LimitForecast> theirs =
        List.of(
            WhiteNoise.limit(ResultQuantity.CURRENT_ERROR, GOOD, 57),
            WhiteNoise.limit(ResultQuantity.CURRENT_ERROR, WIDE, 57),
            WhiteNoise.limit(ResultQuantity.LOAD_REGULATION, WIDE, ALWAYS / 2));
    WantedUncertainties wanted = new WantedUncertainties(richest, theirs);
    assertEquals(1, wanted.missed(richest).size());
    NightDesign trimmed = new NightTrimming(trials, wanted).trimmed(richest).design();
    assertEquals(12, trimmed.readings(GOOD));
    assertEquals(12, trimmed.readings(WIDE));
  }

  /** 200/sqrt(20) is 44.7, 200/sqrt(18) is 47.1 and more than 5 % above it; wanted is 30. */
  @Test
  void aLimitThatIsMissedAnywayIsNotMissedByMore() throws IOException {
    WhiteNoise bench = new WhiteNoise(Files.readString(SHEET));
    NightTrials trials = new NightTrials(bench, () -> 0, night -> {});
    TriedNight richest = trials.sure(NightDesign.richest(SCOPE));
    List<LimitForecast> theirs =
        List.of(
            WhiteNoise.limit(ResultQuantity.CURRENT_ERROR, GOOD, 57),
            WhiteNoise.limit(ResultQuantity.CURRENT_ERROR, WIDE, 30),
            WhiteNoise.limit(ResultQuantity.LOAD_REGULATION, WIDE, ALWAYS));
    WantedUncertainties wanted = new WantedUncertainties(richest, theirs);
    assertEquals(1, wanted.missed(richest).size());
    NightDesign trimmed = new NightTrimming(trials, wanted).trimmed(richest).design();
    assertEquals(12, trimmed.readings(GOOD));
    assertEquals(20, trimmed.readings(WIDE));
  }
}
