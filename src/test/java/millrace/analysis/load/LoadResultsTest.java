// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.OptionalDouble;
import java.util.random.RandomGenerator;
import millrace.analysis.linearity.LoadLinearity;
import millrace.analysis.load.Sweeps.Bench;
import millrace.analysis.load.Sweeps.Truth;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What a load sweep gives, on everything that a real source does. */
class LoadResultsTest {
  private static final double I0 = 1e-3;
  private static final double G = 2e-9;
  private static final LoadSweepRequest QUESTION =
      LoadSweepRequest.of("1mA", I0, 0.9545).withCompliance(OptionalDouble.of(9), 1e-3, true);

  private static RandomGenerator chance() {
    return new Seeds(31).stream("loads");
  }

  private static Result of(List<Result> results, ResultQuantity quantity) {
    return results.stream().filter(r -> r.quantity() == quantity).findFirst().orElseThrow();
  }

  private static ComputationOutcome outcome(List<LoadPoint> points, ResultQuantity quantity) {
    return of(LoadResults.of(points, QUESTION), quantity).outcome();
  }

  private static ComputationOutcome.Value value(List<LoadPoint> points, ResultQuantity quantity) {
    return assertInstanceOf(ComputationOutcome.Value.class, outcome(points, quantity));
  }

  private static void assertInside(double truth, ComputationOutcome.Value value) {
    ComputationOutcome.Uncertainty u = value.uncertainty().orElseThrow();
    assertTrue(
        u.lower() <= truth && truth <= u.upper(),
        () -> truth + " is not within " + u.lower() + " to " + u.upper());
  }

  private static List<LoadPoint> sweep(Truth truth, double mostOhm, int n, Bench bench) {
    return Sweeps.measured(truth, Sweeps.upAndDown(Sweeps.loads(mostOhm, n)), bench, chance());
  }

  /** Readings that are drawn about readings carry their noise twice (methods.md 2.5). */
  @Test
  void aCurveThatChanceHasMovedKeepsWhatWasDecidedOfIt() {
    List<LoadPoint> straight = bowed(0.5e-9);
    List<LoadPoint> moved = bowed(8e-9);
    LoadCurve curve = LoadCurve.of(straight, QUESTION).orElseThrow();
    assertFalse(curve.curved());
    assertTrue(LoadCurve.of(moved, QUESTION).orElseThrow().curved());
    LoadCurve again = curve.again(moved, QUESTION);
    assertFalse(again.curved());
    assertEquals(curve.plateau().size(), again.plateau().size());
    double line = again.currentAtA(0).value();
    assertEquals(line, again.referenceCurrentA().value(), 1e-15);
    double u = curve.currentAtA(0).standardUncertainty();
    assertEquals(u, again.currentAtA(0).standardUncertainty(), 1e-3 * u);
  }

  /** A trial carries no errors by name; a value may not depend on that (methods.md 2.5). */
  @Test
  void aTrialThatMovesNothingGivesTheValuesOfTheReadings() {
    List<LoadPoint> points = sweep(Sweeps.sharp(I0, G, 9, 500), 12e3, 13, Bench.noisy(1e-9));
    LoadCurve curve = LoadCurve.of(points, QUESTION).orElseThrow();
    LoadCurve trial = curve.again(points.stream().map(LoadResultsTest::drawn).toList(), QUESTION);
    List<Result> expected = new ArrayList<>(LoadResults.of(curve));
    expected.addAll(LoadLinearity.of(curve));
    List<Result> found = new ArrayList<>(LoadResults.of(trial));
    found.addAll(LoadLinearity.of(trial));
    int values = 0;
    for (int i = 0; i < expected.size(); i++) {
      if (expected.get(i).outcome() instanceof ComputationOutcome.Value value) {
        ComputationOutcome.Value again =
            assertInstanceOf(ComputationOutcome.Value.class, found.get(i).outcome());
        assertEquals(value.value(), again.value(), 1e-9 * Math.abs(value.value()));
        assertTrue(again.uncertainty().isEmpty());
        values++;
      }
    }
    assertTrue(values > 4, "only " + values + " of " + expected.size());
  }

  private static LoadPoint drawn(LoadPoint p) {
    return new LoadPoint(
        p.key(),
        drawn(p.voltageV()),
        drawn(p.currentA()),
        p.loadOhm(),
        p.timeS(),
        p.unsteady(),
        p.kneeOnly());
  }

  private static Estimate drawn(Estimate e) {
    double own = e.pointUncertainty();
    return Estimate.drawn(e.value(), own, e.standardUncertainty(s -> !s.pointWise()));
  }

  private static List<LoadPoint> bowed(double amperes) {
    Truth bow = new Truth(v -> I0 - G * v + amperes * (v - 1) * (v - 3) / 4, 9);
    return Sweeps.measured(bow, new double[] {0, 1e3, 2e3, 3e3, 4e3}, Bench.quiet(), chance())
        .stream()
        .map(
            p ->
                new LoadPoint(
                    p.key(),
                    p.voltageV(),
                    p.currentA()
                        .with(ErrorSource.normal("own", ErrorSource.POINT, p.key(), 1e-9, "A"), 1),
                    p.loadOhm(),
                    p.timeS(),
                    false,
                    false))
        .toList();
  }

  @Test
  void everyQuantityIsGivenOnce() {
    List<LoadPoint> points = sweep(Sweeps.sharp(I0, G, 9, 500), 12e3, 13, Bench.noisy(1e-9));
    List<ResultQuantity> given =
        LoadResults.of(points, QUESTION).stream().map(Result::quantity).toList();
    assertEquals(
        List.of(
            ResultQuantity.OUTPUT_CONDUCTANCE,
            ResultQuantity.OUTPUT_RESISTANCE,
            ResultQuantity.LOAD_REGULATION,
            ResultQuantity.COMPLIANCE_VOLTAGE,
            ResultQuantity.KNEE_VOLTAGE),
        given);
    assertEquals(
        given, LoadResults.of(List.of(), QUESTION).stream().map(Result::quantity).toList());
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.02, 0.1, 0.3})
  void aRoundedKneeIsEnclosed(double widthV) {
    Truth truth = Sweeps.rounded(I0, G, 9.4, 500, widthV);
    List<LoadPoint> points = sweep(truth, 12e3, 25, Bench.noisy(2e-9));
    double exact = truth.fallenBy(1e-3, v -> I0 - G * v);
    ComputationOutcome.Value found = value(points, ResultQuantity.COMPLIANCE_VOLTAGE);
    assertInside(exact, found);
    assertTrue(found.uncertainty().orElseThrow().expanded() < 0.5);
  }

  @Test
  void aSharpKneeIsFoundBetweenTheLoadsOfAWideBracket() {
    Truth truth = Sweeps.sharp(I0, G, 9.3, 500);
    List<LoadPoint> points = sweep(truth, 14e3, 15, Bench.noisy(2e-10));
    double exact = truth.fallenBy(1e-3, v -> I0 - G * v);
    assertEquals(exact, value(points, ResultQuantity.COMPLIANCE_VOLTAGE).value(), 1e-3);
    ComputationOutcome.Value knee = value(points, ResultQuantity.KNEE_VOLTAGE);
    assertEquals(9.3, knee.value(), 1e-3);
  }

  @Test
  void onePointBeyondLeavesTheBracketOpenUpToIt() {
    Truth truth = Sweeps.rounded(I0, G, 9.7, 500, 0.1);
    List<LoadPoint> points = sweep(truth, 10e3, 11, Bench.noisy(1e-9));
    Result found = of(LoadResults.of(points, QUESTION), ResultQuantity.COMPLIANCE_VOLTAGE);
    assertInside(
        truth.fallenBy(1e-3, v -> I0 - G * v),
        assertInstanceOf(ComputationOutcome.Value.class, found.outcome()));
    assertTrue(found.notes().toString().contains("only one load lies beyond the knee"));
  }

  @Test
  void noPointBeyondGivesTheHighestVoltageAsABound() {
    List<LoadPoint> points = sweep(Sweeps.sharp(I0, G, 9, 500), 8e3, 9, Bench.noisy(1e-9));
    ComputationOutcome.Bound bound =
        assertInstanceOf(
            ComputationOutcome.Bound.class, outcome(points, ResultQuantity.COMPLIANCE_VOLTAGE));
    assertEquals(ComputationOutcome.Side.ABOVE, bound.side());
    assertEquals(8, bound.value(), 1e-3);
    assertEquals(
        "no knee found: one straight line fits the sweep as well",
        assertInstanceOf(
                ComputationOutcome.Missing.class, outcome(points, ResultQuantity.KNEE_VOLTAGE))
            .reason());
  }

  @Test
  void allPointsBeyondTheKneeSayThatThereIsNoPlateau() {
    Truth truth = Sweeps.sharp(I0, G, 1, 500);
    double[] loads = {4e3, 5e3, 6e3, 8e3, 10e3};
    List<ResultQuantity> fromPlateau =
        List.of(
            ResultQuantity.OUTPUT_CONDUCTANCE,
            ResultQuantity.OUTPUT_RESISTANCE,
            ResultQuantity.LOAD_REGULATION,
            ResultQuantity.COMPLIANCE_VOLTAGE);
    List<LoadPoint> points = Sweeps.measured(truth, loads, Bench.noisy(1e-9), chance());
    for (Result result :
        LoadResults.of(points, QUESTION.withReference(LoadSweepRequest.Reference.atOhm(4e3)))) {
      if (fromPlateau.contains(result.quantity())) {
        ComputationOutcome.Missing missing =
            assertInstanceOf(ComputationOutcome.Missing.class, result.outcome());
        assertTrue(missing.reason().contains("no plateau"), missing.reason());
      }
    }
  }

  /** The promise is 10 V or so; every load up to half of it lies beyond this unit's knee. */
  @Test
  void aKneeFarBelowThePromiseIsFoundAndNotTakenForAPlateau() {
    Truth truth = Sweeps.collapsing(I0, G, 4.5, 0.05);
    List<LoadPoint> points = sweep(truth, 12e3, 25, Bench.noisy(1e-9));
    double crossing = truth.fallenBy(1e-3, v -> I0 - G * v);
    ComputationOutcome.Value found =
        assertInstanceOf(
            ComputationOutcome.Value.class, outcome(points, ResultQuantity.COMPLIANCE_VOLTAGE));
    assertEquals(crossing, found.value(), found.uncertainty().orElseThrow().expanded());
  }

  @Test
  void aSweepBeyondTheKneeAloneHasNoPlateau() {
    double[] loads = {4e3, 5e3, 6e3, 8e3, 10e3};
    Truth truth = Sweeps.sharp(I0, G, 1, 500);
    List<LoadPoint> points = Sweeps.measured(truth, loads, Bench.noisy(1e-9), chance());
    assertTrue(LoadCurve.of(points, QUESTION).orElseThrow().noPlateau().isPresent());
    assertInstanceOf(
        ComputationOutcome.Missing.class, outcome(points, ResultQuantity.OUTPUT_CONDUCTANCE));
  }

  @Test
  void aSourceThatFoldsBackIsTakenAtItsFirstCrossing() {
    List<LoadPoint> points = new ArrayList<>();
    for (int k = 0; k <= 14; k++) {
      double ohm = 1e3 * k;
      double i = ohm < 9e3 ? I0 - G * ohm * I0 : 9 * 0.4 / (ohm - 9 * 0.6 / I0);
      points.add(point("p" + k, i * ohm, i, ohm, 1e-9, k));
    }
    Result found = of(LoadResults.of(points, QUESTION), ResultQuantity.COMPLIANCE_VOLTAGE);
    assertInside(9, assertInstanceOf(ComputationOutcome.Value.class, found.outcome()));
    assertTrue(found.notes().toString().contains("folds back"));
    assertInstanceOf(
        ComputationOutcome.Missing.class, outcome(points, ResultQuantity.KNEE_VOLTAGE));
  }

  @Test
  void aLoadThatOscillatesNearTheKneeIsFlaggedAndKeptOut() {
    Truth truth = Sweeps.sharp(I0, G, 9.4, 500);
    List<LoadPoint> points = new ArrayList<>();
    for (LoadPoint p : sweep(truth, 12e3, 13, Bench.noisy(1e-9))) {
      boolean wild = p.loadOhm().orElseThrow() == 9e3;
      Estimate current = wild ? p.currentA().plus(-4e-5) : p.currentA();
      points.add(
          new LoadPoint(p.key(), p.voltageV(), current, p.loadOhm(), p.timeS(), wild, false));
    }
    Result found = of(LoadResults.of(points, QUESTION), ResultQuantity.COMPLIANCE_VOLTAGE);
    assertInside(
        truth.fallenBy(1e-3, v -> I0 - G * v),
        assertInstanceOf(ComputationOutcome.Value.class, found.outcome()));
    assertTrue(
        found
            .notes()
            .toString()
            .contains("1 load with readings that scatter abnormally: flagged and left out"));
  }

  @Test
  void pointsTakenOnTheWayTellTheKneeAndLeaveTheLineAlone() {
    Truth truth = Sweeps.sharp(I0, G, 9.4, 500);
    List<LoadPoint> points = new ArrayList<>();
    List<LoadPoint> low = new ArrayList<>();
    for (LoadPoint p : sweep(truth, 12e3, 25, Bench.noisy(1e-9))) {
      boolean onTheWay = p.loadOhm().orElseThrow() > 7.5e3;
      points.add(
          new LoadPoint(
              p.key(), p.voltageV(), p.currentA(), p.loadOhm(), p.timeS(), false, onTheWay));
      low.addAll(onTheWay ? List.of() : List.of(p));
    }
    Result found = of(LoadResults.of(points, QUESTION), ResultQuantity.COMPLIANCE_VOLTAGE);
    assertInside(
        truth.fallenBy(1e-3, v -> I0 - G * v),
        assertInstanceOf(ComputationOutcome.Value.class, found.outcome()));
    LoadCurve with = LoadCurve.of(points, QUESTION).orElseThrow();
    LoadCurve without = LoadCurve.of(low, QUESTION).orElseThrow();
    assertEquals(without.conductanceS().value(), with.conductanceS().value());
  }

  @Test
  void noiseLargerThanTheCriterionStillEnclosesTheKnee() {
    Truth truth = Sweeps.rounded(I0, G, 9.4, 500, 0.1);
    double exact = truth.fallenBy(1e-3, v -> I0 - G * v);
    int inside = 0;
    RandomGenerator chance = chance();
    for (int k = 0; k < 200; k++) {
      double[] loads = Sweeps.upAndDown(Sweeps.loads(12e3, 25));
      List<LoadPoint> points = Sweeps.measured(truth, loads, Bench.noisy(2e-6), chance);
      ComputationOutcome found = outcome(points, ResultQuantity.COMPLIANCE_VOLTAGE);
      if (found instanceof ComputationOutcome.Value v) {
        ComputationOutcome.Uncertainty u = v.uncertainty().orElseThrow();
        inside += u.lower() <= exact && exact <= u.upper() ? 1 : 0;
      } else if (found instanceof ComputationOutcome.Bound b) {
        inside += b.value() <= exact ? 1 : 0;
      }
    }
    assertTrue(inside >= 180, "only " + inside + " of 200 hold the truth");
  }

  @Test
  void theOrderOfThePointsDoesNotMatter() {
    List<LoadPoint> points =
        sweep(Sweeps.rounded(I0, G, 9.4, 500, 0.05), 12e3, 13, Bench.noisy(1e-9));
    List<Result> expected = LoadResults.of(points, QUESTION);
    List<LoadPoint> shuffled = new ArrayList<>(points);
    Collections.reverse(shuffled);
    assertEquals(expected, LoadResults.of(shuffled, QUESTION));
  }

  @Test
  void aDescendingSweepWithRepeatsGivesTheSameLine() {
    double[] up = Sweeps.loads(8e3, 9);
    double[] down = new double[2 * up.length];
    for (int k = 0; k < up.length; k++) {
      down[2 * k] = up[up.length - 1 - k];
      down[2 * k + 1] = up[up.length - 1 - k];
    }
    Truth truth = Sweeps.sharp(I0, G, 9, 500);
    List<LoadPoint> points = Sweeps.measured(truth, down, Bench.noisy(1e-10), chance());
    assertInside(G, value(points, ResultQuantity.OUTPUT_CONDUCTANCE));
  }

  @Test
  void aDriftDuringUpAndDownDoesNotReadAsConductance() {
    Truth truth = Sweeps.sharp(I0, G, 9, 500);
    Bench drifting = Bench.noisy(1e-10).withDrift(1e-10);
    assertInside(G, value(sweep(truth, 8e3, 9, drifting), ResultQuantity.OUTPUT_CONDUCTANCE));
  }

  @Test
  void voltageThatFallsWhileTheLoadRisesIsWalkedByLoad() {
    List<LoadPoint> points = new ArrayList<>();
    double[] v = {0, 1, 2, 3, 3.999, 3.998, 5, 6, 7, 8};
    for (int k = 0; k < v.length; k++) {
      points.add(point("p" + k, v[k], I0 - G * v[k], 1e3 * k, 1e-10, k));
    }
    assertInside(G, value(points, ResultQuantity.OUTPUT_CONDUCTANCE));
    assertInstanceOf(
        ComputationOutcome.Bound.class, outcome(points, ResultQuantity.COMPLIANCE_VOLTAGE));
  }

  @Test
  void constantDataGiveABoundOrAReason() {
    List<LoadPoint> points = new ArrayList<>();
    for (int k = 0; k < 6; k++) {
      points.add(point("p" + k, k * 1.0, I0, k * 1e3, 1e-9, k));
    }
    assertEquals(0, value(points, ResultQuantity.OUTPUT_CONDUCTANCE).value(), 1e-18);
    ComputationOutcome.Bound r =
        assertInstanceOf(
            ComputationOutcome.Bound.class, outcome(points, ResultQuantity.OUTPUT_RESISTANCE));
    assertEquals(ComputationOutcome.Side.ABOVE, r.side());
    List<LoadPoint> same = new ArrayList<>();
    for (int k = 0; k < 6; k++) {
      same.add(point("p" + k, 1, I0, k * 1e3, 1e-9, k));
    }
    assertEquals(
        "the loads do not differ in voltage, so the slope cannot be computed: add loads that do",
        assertInstanceOf(
                ComputationOutcome.Missing.class, outcome(same, ResultQuantity.OUTPUT_CONDUCTANCE))
            .reason());
  }

  @Test
  void dataThatRoundToTheSameGiveABoundFromTheirLastDecimal() {
    List<LoadPoint> points = new ArrayList<>();
    for (int k = 0; k < 6; k++) {
      double rounded = Math.rint((I0 - 1e-12 * k) * 1e9) / 1e9;
      points.add(point("p" + k, k * 1.0, rounded, k * 1e3, 0, k));
    }
    ComputationOutcome.Value g = value(points, ResultQuantity.OUTPUT_CONDUCTANCE);
    assertInside(1e-12, g);
    ComputationOutcome.Bound r =
        assertInstanceOf(
            ComputationOutcome.Bound.class, outcome(points, ResultQuantity.OUTPUT_RESISTANCE));
    assertTrue(r.value() < 1e12 && r.value() > 1e6, "bound " + r.value());
  }

  @Test
  void twoPointsAreTooFew() {
    List<LoadPoint> points =
        List.of(point("a", 0, I0, 0, 1e-9, 0), point("b", 1, I0, 1e3, 1e-9, 1));
    assertEquals(
        "2 loads with steady readings, needs at least 3: add loads to the sweep",
        assertInstanceOf(
                ComputationOutcome.Missing.class,
                outcome(points, ResultQuantity.OUTPUT_CONDUCTANCE))
            .reason());
  }

  @Test
  void conductanceAboveFourTimesItsUncertaintyGivesAResistance() {
    List<LoadPoint> points = sweep(Sweeps.sharp(I0, G, 9, 500), 8e3, 9, Bench.noisy(1e-10));
    ComputationOutcome.Uncertainty g =
        value(points, ResultQuantity.OUTPUT_CONDUCTANCE).uncertainty().orElseThrow();
    ComputationOutcome.Value r = value(points, ResultQuantity.OUTPUT_RESISTANCE);
    assertInside(1 / G, r);
    assertEquals(1 / g.upper(), r.uncertainty().orElseThrow().lower(), 1e-6 / g.upper());
    assertEquals(1 / g.lower(), r.uncertainty().orElseThrow().upper(), 1e-6 / g.lower());
  }

  @Test
  void conductanceThatDrownsInNoiseGivesABoundOnTheResistance() {
    List<LoadPoint> points = sweep(Sweeps.sharp(I0, 1e-12, 9, 500), 8e3, 9, Bench.noisy(1e-9));
    ComputationOutcome.Value g = value(points, ResultQuantity.OUTPUT_CONDUCTANCE);
    ComputationOutcome.Bound r =
        assertInstanceOf(
            ComputationOutcome.Bound.class, outcome(points, ResultQuantity.OUTPUT_RESISTANCE));
    double reach = 3 * g.uncertainty().orElseThrow().standard();
    assertEquals(1 / (Math.abs(g.value()) + reach), r.value(), 1e-6 * r.value());
    assertTrue(r.value() < 1e12);
  }

  @Test
  void currentThatRisesWithVoltageHasNoResistance() {
    List<LoadPoint> points = sweep(Sweeps.sharp(I0, -G, 9, 500), 8e3, 9, Bench.noisy(1e-10));
    assertEquals(
        "current rises with voltage",
        assertInstanceOf(
                ComputationOutcome.Missing.class, outcome(points, ResultQuantity.OUTPUT_RESISTANCE))
            .reason());
  }

  @Test
  void theFixtureIsTakenOffAndAboveAThirdLeavesABound() {
    List<LoadPoint> points = sweep(Sweeps.sharp(I0, G, 9, 500), 8e3, 9, Bench.noisy(1e-10));
    Estimate small =
        Estimate.exact(1e-10)
            .with(ErrorSource.within("fixture", ErrorSource.RUN, "f", 2e-11, "S"), 1);
    List<Result> light = LoadResults.of(points, QUESTION.withFixture(small));
    assertInside(
        G - 1e-10,
        assertInstanceOf(
            ComputationOutcome.Value.class,
            of(light, ResultQuantity.OUTPUT_CONDUCTANCE).outcome()));
    List<Result> heavy = LoadResults.of(points, QUESTION.withFixture(Estimate.exact(1e-9)));
    assertInstanceOf(
        ComputationOutcome.Bound.class, of(heavy, ResultQuantity.OUTPUT_RESISTANCE).outcome());
  }

  @Test
  void whatIsSharedByAllPointsCancelsInTheSlope() {
    Truth truth = Sweeps.sharp(I0, G, 9, 500);
    List<LoadPoint> points = sweep(truth, 8e3, 9, Bench.noisy(1e-10).withGain(1e-3));
    double u =
        value(points, ResultQuantity.OUTPUT_CONDUCTANCE).uncertainty().orElseThrow().standard();
    assertTrue(u < 2e-3 * G + 2e-11, "u(G) is " + u);
    double uCurrent =
        LoadCurve.of(points, QUESTION).orElseThrow().shortCurrentA().standardUncertainty();
    assertEquals(1e-3 * I0, uCurrent, 2e-8);
  }

  @Test
  void aBentPlateauSaysSoAndWidensTheSlope() {
    double bend = 1e-10;
    Truth truth = new Truth(v -> I0 - G * v - bend * v * v - Math.max(0, v - 9) / 500, 12);
    List<LoadPoint> points = sweep(truth, 8e3, 17, Bench.noisy(1e-11));
    Result g = of(LoadResults.of(points, QUESTION), ResultQuantity.OUTPUT_CONDUCTANCE);
    assertTrue(g.notes().get(0).startsWith("curved plateau"), g.notes().toString());
    ComputationOutcome.Uncertainty u =
        assertInstanceOf(ComputationOutcome.Value.class, g.outcome()).uncertainty().orElseThrow();
    assertEquals(G + bend * 8, (u.lower() + u.upper()) / 2, 1e-11);
    assertTrue(u.lower() < G + 2 * bend && u.upper() > G + 14 * bend, "too narrow: " + u);
  }

  @Test
  void noNominalLeavesOutWhatIsCountedOfIt() {
    List<LoadPoint> points = sweep(Sweeps.sharp(I0, G, 9, 500), 8e3, 9, Bench.noisy(1e-10));
    List<Result> results = LoadResults.of(points, LoadSweepRequest.of("1mA", 0, 0.9545));
    assertInstanceOf(
        ComputationOutcome.Missing.class, of(results, ResultQuantity.LOAD_REGULATION).outcome());
    assertInstanceOf(
        ComputationOutcome.Value.class, of(results, ResultQuantity.OUTPUT_CONDUCTANCE).outcome());
  }

  @Test
  void aSourceThatSinksIsTheMirrorOfOneThatDrives() {
    List<LoadPoint> points =
        sweep(Sweeps.rounded(I0, G, 9.4, 500, 0.05), 12e3, 25, Bench.noisy(1e-9));
    List<LoadPoint> mirrored =
        points.stream()
            .map(
                p ->
                    new LoadPoint(
                        p.key(),
                        p.voltageV().times(-1),
                        p.currentA().times(-1),
                        p.loadOhm(),
                        p.timeS(),
                        false,
                        false))
            .toList();
    for (ResultQuantity quantity :
        List.of(ResultQuantity.OUTPUT_CONDUCTANCE, ResultQuantity.COMPLIANCE_VOLTAGE)) {
      double expected = value(points, quantity).value();
      assertEquals(
          expected,
          assertInstanceOf(
                  ComputationOutcome.Value.class,
                  of(LoadResults.of(mirrored, QUESTION), quantity).outcome())
              .value(),
          1e-9 * expected);
    }
  }

  private static LoadPoint point(String key, double v, double i, double ohm, double u, int k) {
    Estimate current =
        Estimate.exact(i).with(ErrorSource.normal("noise", ErrorSource.POINT, key, u, "A"), 1);
    return new LoadPoint(
        key, Estimate.exact(v), current, OptionalDouble.of(ohm), 10.0 * k, false, false);
  }
}
