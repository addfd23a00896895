// SPDX-License-Identifier: Apache-2.0
package millrace.planning.adaptive;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.evidence.BoxJudgementBasis;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ConditionBox;
import millrace.evidence.Conformity;
import millrace.evidence.DecisionRule;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.Judgement;
import millrace.evidence.Limit;
import millrace.evidence.Result;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import millrace.planning.LimitForecast;
import millrace.planning.LimitForecast.Answer;
import millrace.sequence.BenchSpeeds;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.SequenceExpansion;
import millrace.sequence.SequenceForms;
import millrace.sequence.UsualBenchSpeeds;
import org.junit.jupiter.api.Test;

/** Which points a run still needs, by the U that it has so far. */
class NextStaysTest {
  private static final Datasheet DATASHEET =
      DatasheetFile.read(Path.of("examples", "fx-3.datasheet.yaml"));
  private static final BenchSpeeds SPEEDS = UsualBenchSpeeds.of(50, 0.05);
  private static final double FOR_EVER_S = 1e9;
  private static final Plan PLAN =
      plan("[23 degC, 50 degC, 23 degC, 5 degC, 35 degC, 23 degC, 14 degC, 23 degC]");

  private static Plan plan(String temperatures) {
    String text =
        """
        sequence: a night
        readings: {count: 2, line cycles: 1}
        steps:
          - at temperatures: %s
            soak: {within: 5 ppm, at least: 10 min, at most: 3 h}
            do:
              - check standard: all
              - in ranges: [1mA, 100uA]
                do:
                  - zero
                  - over loads: {share of compliance: [0 %%, 40 %%, 80 %%]}
                    sweep: up
        """
            .formatted(temperatures);
    byte[] content = text.getBytes(StandardCharsets.UTF_8);
    return SequenceExpansion.expand(
        SequenceForms.read(Path.of("night.yaml"), path -> content).sequence(),
        DATASHEET,
        List.of());
  }

  private static LimitForecast tempco(
      String range, double value, double u, BoxJudgementBasis.Basis basis) {
    Judgement judgement =
        new Judgement(
            new Limit(OptionalDouble.of(-5), OptionalDouble.of(5)),
            ConditionBox.NONE,
            new DecisionRule(DecisionRule.Kind.GUARDED, 1),
            Conformity.PASS,
            OptionalDouble.of(5 / u),
            OptionalDouble.of(1),
            new BoxJudgementBasis(basis, Optional.empty(), List.of()),
            Judgement.Risk.UNKNOWN);
    BudgetComponent noise =
        new BudgetComponent(
            "noise",
            "point",
            u / 2,
            "ppm/K",
            ErrorDistribution.NORMAL,
            1,
            u / 2,
            OptionalDouble.empty());
    Result result =
        new Result(
            ResultQuantity.TEMPCO,
            Optional.of(range),
            ResultConditions.NONE,
            new ComputationOutcome.Value(
                value,
                Optional.of(
                    new ComputationOutcome.Uncertainty(
                        u / 2, u, value - u, value + u, 0.95, 2, OptionalDouble.empty())),
                9),
            Optional.of(judgement),
            List.of(noise),
            Optional.empty(),
            "Methods of Millrace 5.2",
            List.of());
    return new LimitForecast(result, Answer.PASS, Optional.empty());
  }

  private static LimitForecast tempco(String range, double value, double u) {
    return tempco(range, value, u, BoxJudgementBasis.Basis.MEASURED);
  }

  /** Both ranges are decided at a U of 1.25 ppm/K, a quarter of the tolerance. */
  private static final StoppingRule RULE =
      StoppingRule.of(List.of(tempco("1mA", 0, 0.1), tempco("100uA", 0, 0.1)));

  private static RunStanding before(int visit, double boundS) {
    Set<String> toGo = new LinkedHashSet<>();
    for (PlannedPoint p : PLAN.points()) {
      if (p.temperature().orElseThrow().visit() >= visit) {
        toGo.add(p.key());
      }
    }
    return new RunStanding(PLAN, toGo, 0, boundS);
  }

  private static List<PlanRevision> after(double boundS, List<List<LimitForecast>> units) {
    return new NextStays(RULE, DATASHEET, SPEEDS).after(before(4, boundS), units);
  }

  private static List<PlanRevision> after(LimitForecast... limits) {
    return after(FOR_EVER_S, List.of(List.of(limits)));
  }

  private static List<String> words(List<PlanRevision> revisions) {
    return revisions.stream().map(PlanRevision::words).toList();
  }

  @Test
  void whatDecidesIsFixedBeforeAndNeverBelowWhatTheWholePlanReaches() {
    StoppingRule rule =
        StoppingRule.of(
            List.of(tempco("1mA", 0, 0.1), tempco("100uA", 4, 0.1), tempco("10uA", 0, 2)));
    List<Double> most = new ArrayList<>();
    for (String range : List.of("1mA", "100uA", "10uA")) {
      most.add(rule.mostU().get("tempco " + range + " from -5 to 5").orElseThrow());
    }
    // a quarter of 5 ppm/K; 1 ppm/K to the limit over 1 + r; 2 ppm/K and 2 % of it
    assertEquals(List.of(1.25, 0.5, 2.04), most);
  }

  @Test
  void whatTellsNothingOfALimitIsNotAskedOfIt() {
    LimitForecast unknown =
        new LimitForecast(tempco("1mA", 0, 1).result(), Answer.NOT_KNOWN, Optional.empty());
    assertEquals(Map.of(), StoppingRule.of(List.of(unknown)).mostU());
  }

  @Test
  void aStayThatNothingNeedsIsNotGoneToButThreeVisitsToTheReference() {
    List<PlanRevision> all = after(tempco("1mA", 0, 1.2), tempco("100uA", 0, 1.2));
    int points = PLAN.points().size() / 8;
    assertEquals(
        List.of(
            "stay 5, 35 degC: all %s points".formatted(points),
            "stay 7, 14 degC: all %s points".formatted(points),
            "stay 8, 23 degC: all %s points".formatted(points)),
        words(all));
    assertTrue(all.stream().allMatch(r -> r.kind() == PlanRevision.Kind.LEAVE_OUT));
    assertEquals(
        "every limit of 1mA, 100uA has the U that decides it; the last was tempco of 100uA: U is"
            + " 1.2 ppm/K, 1.3 decide it",
        all.get(0).reason());
  }

  @Test
  void aRangeThatIsDecidedIsMeasuredNoMoreAndTheOtherKeepsZeroAndCheckStandard() {
    List<PlanRevision> all =
        after(0, List.of(List.of(tempco("1mA", 0, 1.2), tempco("100uA", 0, 1.3))));
    assertEquals(3, all.size(), words(all)::toString);
    for (PlanRevision each : all) {
      assertEquals(4, each.keys().size(), "zero and three loads of " + each);
      assertTrue(each.keys().stream().allMatch(k -> k.contains("1mA")), each.toString());
    }
  }

  @Test
  void looksAtUAloneAndNotAtWhatWasFound() {
    for (double found : new double[] {-4.9, 0, 3, 12}) {
      assertEquals(
          words(after(tempco("1mA", 0, 1.2), tempco("100uA", 0, 1.3))),
          words(after(tempco("1mA", found, 1.2), tempco("100uA", -found, 1.3))));
    }
  }

  @Test
  void saysWhatIsWanting() {
    NextStays next = new NextStays(RULE, DATASHEET, SPEEDS);
    assertEquals(
        "1 of 2 limits have the U that decides them; not yet: tempco of 1mA: U is 2.5 ppm/K, 1.3"
            + " decide it",
        next.inWords(List.of(List.of(tempco("1mA", 0, 2.5), tempco("100uA", 0, 1)))));
    assertEquals(
        "1 of 2 limits have the U that decides them; not yet: tempco of 1mA: U is small enough, but"
            + " rests on what is not measured yet",
        next.inWords(
            List.of(
                List.of(
                    tempco("1mA", 0, 1, BoxJudgementBasis.Basis.DESIGN), tempco("100uA", 0, 1)))));
    assertEquals(
        "0 of 2 limits have the U that decides them; not yet: tempco 100uA from -5 to 5: not"
            + " measured; tempco 1mA from -5 to 5: not measured",
        next.inWords(List.of(List.of())));
  }

  @Test
  void nothingChangesWhereALimitWasNotMeasuredYet() {
    assertEquals(List.of(), after());
  }

  @Test
  void whatRestsOnAnotherUnitDecidesNothing() {
    BoxJudgementBasis.Basis type = BoxJudgementBasis.Basis.TYPE_RUN;
    assertEquals(List.of(), after(tempco("1mA", 0, 1, type), tempco("100uA", 0, 1, type)));
  }

  @Test
  void whatOneUnitOfSeveralNeedsIsMeasured() {
    List<LimitForecast> decided = List.of(tempco("1mA", 0, 1), tempco("100uA", 0, 1));
    List<LimitForecast> wide = List.of(tempco("1mA", 0, 1.3), tempco("100uA", 0, 1.3));
    assertEquals(List.of(), after(0, List.of(decided, wide)));
    assertEquals(3, after(0, List.of(decided, decided)).size());
  }

  @Test
  void theTimeThatIsLeftGoesToWhatIsNotDecided() {
    // all of u comes from single points: 12 so far and 12 to come bring 2.5 to 1.8, 1.25 is wanted
    List<PlanRevision> all = after(tempco("1mA", 0, 2.5), tempco("100uA", 0, 1.3));
    assertEquals(
        List.of(
            "stay 5, 35 degC: 3 points of 1mA once more",
            "stay 5, 35 degC: 3 points of 1mA once more",
            "stay 5, 35 degC: 3 points of 1mA once more"),
        words(all));
    assertEquals(PlanRevision.Kind.REPEAT, all.get(0).kind());
    assertEquals("tempco of 1mA: U is 2.5 ppm/K, 1.3 decide it", all.get(0).reason());
  }

  @Test
  void noMoreTimeIsTakenThanWasPlanned() {
    assertEquals(
        List.of(), after(0, List.of(List.of(tempco("1mA", 0, 2.5), tempco("100uA", 0, 1.3)))));
  }

  @Test
  void moreOfWhatThePointsShareIsNotMeasured() {
    Result noisy = tempco("1mA", 0, 2.5).result();
    Result shared =
        new Result(
            noisy.quantity(),
            noisy.range(),
            noisy.at(),
            noisy.outcome(),
            noisy.judgement(),
            List.of(
                new BudgetComponent(
                    "meter gain",
                    "meter and range",
                    1.25,
                    "ppm/K",
                    ErrorDistribution.NORMAL,
                    1,
                    1.25,
                    OptionalDouble.empty())),
            noisy.ppmBase(),
            noisy.method(),
            noisy.notes());
    LimitForecast limit = new LimitForecast(shared, Answer.PASS, Optional.empty());
    assertEquals(List.of(), after(limit, tempco("100uA", 0, 1.3)));
  }
}
