// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.Reference;
import millrace.evidence.Limit;
import millrace.evidence.Limits;
import millrace.verification.Digits;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The study of the Measurement Systems Analysis manual, and a textbook's with an interaction. */
class GaugeStudyTest {
  private static List<GaugeStudy.Trial> trials(String set) {
    return Reference.rows("grr/" + set + ".csv").stream()
        .map(
            r ->
                new GaugeStudy.Trial(
                    r.get("part"), r.get("appraiser"), Reference.number(r, "value")))
        .toList();
  }

  @ParameterizedTest
  @CsvSource({"msa4_10x3x3, true", "thermal_impedance_10x3x3, false"})
  void tableAndComponentsAgree(String set, boolean pooled) {
    GaugeStudy found = GaugeStudy.of(trials(set));
    JsonNode expected = Reference.json("grr/" + set + ".json");
    Origin origin = set.startsWith("thermal") ? Origin.MEMORY : Origin.RECOMPUTED;
    Digits digits = Digits.of(GaugeStudyTest.class, origin, "crossed gauge studies " + set);
    List<GaugeStudy.Effect> effects =
        List.of(found.units(), found.operators(), found.interaction(), found.repeatability());
    for (int i = 0; i < effects.size(); i++) {
      JsonNode row = expected.get("anova").get(i);
      assertEquals(row.get("df").asInt(), effects.get(i).degreesOfFreedom());
      digits.agree("sums of squares", row.get("ss").asDouble(), effects.get(i).squares(), 1e-9);
    }
    digits.agree(
        "probability of the interaction",
        expected.get("p_interaction").asDouble(),
        found.interactionProbability(),
        1e-8);
    assertEquals(pooled, found.pooled());
    JsonNode clamped =
        expected
            .get(pooled ? "without_interaction_pooled" : "with_interaction")
            .get("clamped_at_zero");
    JsonNode variance = clamped.get("variance");
    GaugeStudy.Components c = found.components();
    String check = "variance components";
    digits.agree(check, variance.get("repeatability").asDouble(), c.repeatability(), 1e-9);
    digits.agree(check, variance.get("appraiser").asDouble(), c.operator(), 1e-9);
    digits.agree(check, variance.get("grr").asDouble(), c.gauge(), 1e-9);
    digits.agree(check, variance.get("part").asDouble(), c.unit(), 1e-9);
    digits.agree(
        "share of the study",
        clamped.get("percent_study_variation").get("GRR").asDouble() / 100,
        found.ofStudy(),
        1e-9);
    assertEquals(clamped.get("ndc").asInt(), (int) found.distinctCategories().orElseThrow());
  }

  @Test
  void publishedComponentsOfTheManual() {
    JsonNode published = Reference.json("grr/msa4_10x3x3.json").get("published");
    GaugeStudy.Components found = GaugeStudy.of(trials("msa4_10x3x3")).components();
    JsonNode sd = published.get("pooled_components");
    assertEquals(sd.get("EV_sd").asDouble(), Math.sqrt(found.repeatability()), 1e-6);
    assertEquals(sd.get("AV_sd").asDouble(), Math.sqrt(found.operator()), 1e-6);
    assertEquals(sd.get("GRR_sd").asDouble(), Math.sqrt(found.gauge()), 2e-6);
  }

  @Test
  void shareOfTheToleranceIsSixStandardDeviationsOfTheGauge() {
    GaugeStudy found = GaugeStudy.of(trials("msa4_10x3x3"));
    double share = found.ofTolerance(Limits.between(-4, 4)).orElseThrow();
    assertEquals(6 * 0.302371522322905 / 8, share, 1e-9);
    Limit open = new Limit(OptionalDouble.of(1), OptionalDouble.empty());
    assertTrue(found.ofTolerance(open).isEmpty());
  }

  @Test
  void refusesTrialsThatAreNotCrossedAndBalanced() {
    List<GaugeStudy.Trial> all = new ArrayList<>(trials("msa4_10x3x3"));
    GaugeStudy.Trial lost = all.remove(7);
    String message =
        assertThrows(IllegalArgumentException.class, () -> GaugeStudy.of(all)).getMessage();
    assertEquals(
        "89 trials of 10 units by 3 operators; expected each with each, equally often and at"
            + " least twice",
        message);
    all.add(new GaugeStudy.Trial("10", lost.operator(), 1));
    assertThrows(IllegalArgumentException.class, () -> GaugeStudy.of(all));
    assertThrows(IllegalArgumentException.class, () -> GaugeStudy.of(List.of()));
  }

  @Test
  void trialsThatAreAllAlikeHaveNoVariance() {
    List<GaugeStudy.Trial> flat =
        trials("msa4_10x3x3").stream()
            .map(t -> new GaugeStudy.Trial(t.unit(), t.operator(), 5))
            .toList();
    GaugeStudy found = GaugeStudy.of(flat);
    assertEquals(0, found.ofStudy());
    assertTrue(found.distinctCategories().isEmpty());
  }

  private static GaugeStudy study(double perUnit, double perTrial) {
    List<GaugeStudy.Trial> trials = new ArrayList<>();
    for (int unit = 0; unit < 2; unit++) {
      for (int operator = 0; operator < 2; operator++) {
        for (int repeat = 0; repeat < 3; repeat++) {
          double scatter = repeat == 0 ? -perTrial : repeat == 1 ? 0 : perTrial;
          trials.add(new GaugeStudy.Trial("U" + unit, "O" + operator, unit * perUnit + scatter));
        }
      }
    }
    return GaugeStudy.of(trials);
  }

  /** One seed twelve times, a bench without noise, and units that are all alike. */
  @Test
  void saysWhyItTellsNothing() {
    assertEquals(
        Optional.of("nothing varies in it: all its values are the same"),
        study(0, 0).tellsNothing());
    assertEquals(
        Optional.of("repeated measurements agree to the last digit, which no bench does"),
        study(5, 0).tellsNothing());
    assertEquals(
        Optional.of("its units differ by less than they scatter on the bench (0 categories)"),
        study(0, 5).tellsNothing());
    assertEquals(Optional.empty(), study(100, 1).tellsNothing());
    assertEquals(Optional.empty(), GaugeStudy.of(trials("msa4_10x3x3")).tellsNothing());
  }

  @Test
  void oneValueHasNoScatter() {
    assertEquals(OptionalDouble.empty(), BatchMeanAndSpread.of(new double[] {3}).scatter());
    assertEquals(OptionalDouble.of(0), BatchMeanAndSpread.of(new double[] {3, 3}).scatter());
  }

  /**
   * Base R 4.2, two million draws of the same quantities: mean squares of {@code anova(lm(value ~
   * part * appraiser))} over rchisq, their 2.5 % and 97.5 % quantiles.
   */
  @Test
  void intervalsOfComponentsAgreeWithR() {
    GaugeIntervals thermal =
        GaugeIntervals.of(GaugeStudy.of(trials("thermal_impedance_10x3x3")), 0.95);
    near(0.60680, 0.87031, thermal.repeatability());
    near(0.81613, 5.16497, thermal.reproducibility());
    near(4.7588, 12.7180, thermal.units());
    near(1.0891, 5.2165, thermal.gauge());
    assertEquals(new Interval(1, 13), thermal.distinctCategories());
    GaugeIntervals pooled = GaugeIntervals.of(GaugeStudy.of(trials("msa4_10x3x3")), 0.95);
    near(0.17289, 0.23711, pooled.repeatability());
    near(0.11398, 1.44595, pooled.reproducibility());
    near(0.71511, 1.90635, pooled.units());
    near(0.22693, 1.45990, pooled.gauge());
  }

  /** A Sobol sequence of 4,000 places finds the ends to a few per cent. */
  private static void near(double lower, double upper, Interval found) {
    assertEquals(lower, found.lower(), 0.03 * lower);
    assertEquals(upper, found.upper(), 0.03 * upper);
  }

  /** The ends of the repeatability are exact by chi squared. */
  @Test
  void intervalOfTheRepeatabilityIsThatByChiSquared() {
    GaugeStudy study = GaugeStudy.of(trials("thermal_impedance_10x3x3"));
    Interval exact =
        BatchMeanAndSpread.ratio(study.repeatability().degreesOfFreedom(), 0.95)
            .times(Math.sqrt(study.components().repeatability()));
    Interval found = GaugeIntervals.of(study, 0.95).repeatability();
    assertEquals(exact.lower(), found.lower(), 2e-3 * exact.lower());
    assertEquals(exact.upper(), found.upper(), 2e-3 * exact.upper());
  }
}
