// SPDX-License-Identifier: Apache-2.0
package millrace.verification;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.function.DoubleFunction;
import java.util.random.RandomGenerator;
import millrace.analysis.load.LoadCurve;
import millrace.analysis.load.LoadPoint;
import millrace.analysis.load.LoadResults;
import millrace.analysis.load.LoadSweepRequest;
import millrace.analysis.load.Sweeps;
import millrace.analysis.load.Sweeps.Truth;
import millrace.analysis.response.RangeMeasurements;
import millrace.analysis.response.RangeResponse;
import millrace.analysis.response.ReferenceCurrent;
import millrace.analysis.response.ResponsePoint;
import millrace.analysis.response.ResponseSettings;
import millrace.analysis.response.UnitResponse;
import millrace.analysis.temperature.TemperatureResults;
import millrace.analysis.temperature.TemperatureStudy;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;
import millrace.time.Seeds;

/**
 * How often the stated intervals hold the truth, unit and bench redrawn in every set, and how wide
 * they are: the median of |error|/U.
 */
final class CoverageStudy {
  private static final double NOMINAL_A = 1e-3;
  private static final double COVERAGE = 0.9545;
  private static final double[] VISITS = {23, 11, 35, 23};
  private static final double[] STAYS = {23, 5, -10, 5, 23, 40, 55, 40, 23};

  private final Map<String, Tally> tallies = new TreeMap<>();

  /** What was counted of one quantity. */
  static final class Tally {
    private int inside;
    private int bounds;
    private int rightBounds;
    private final List<Double> ratios = new ArrayList<>();

    private void add(ComputationOutcome outcome, double truth) {
      if (outcome instanceof ComputationOutcome.Value value) {
        ComputationOutcome.Uncertainty u = value.uncertainty().orElseThrow();
        inside += u.lower() <= truth && truth <= u.upper() ? 1 : 0;
        ratios.add(Math.abs(value.value() - truth) / u.expanded());
      } else if (outcome instanceof ComputationOutcome.Bound bound) {
        bounds++;
        boolean above = bound.side() == ComputationOutcome.Side.ABOVE;
        rightBounds += above == truth >= bound.value() ? 1 : 0;
      }
    }

    int values() {
      return ratios.size();
    }

    double coverage() {
      return (double) inside / ratios.size();
    }

    double medianRatio() {
      List<Double> sorted = new ArrayList<>(ratios);
      Collections.sort(sorted);
      return sorted.get(sorted.size() / 2);
    }
  }

  /** Runs a study over so many sets. */
  static CoverageStudy of(int sets, long seed) {
    CoverageStudy study = new CoverageStudy();
    RandomGenerator chance = new Seeds(seed).stream("coverage");
    for (int k = 0; k < sets; k++) {
      study.load(chance);
      study.temperature(chance);
    }
    return study;
  }

  Tally of(ResultQuantity quantity) {
    return tallies.getOrDefault(quantity.key(), new Tally());
  }

  private void count(Result result, double truth) {
    tallies.computeIfAbsent(result.quantity().key(), k -> new Tally()).add(result.outcome(), truth);
  }

  private void load(RandomGenerator chance) {
    double i0 = NOMINAL_A * (1 + 1e-4 * chance.nextGaussian());
    double g = 1e-9 * (0.5 + 2 * chance.nextDouble());
    double mostV = 9 + 2 * chance.nextDouble();
    double width = 0.02 + 0.1 * chance.nextDouble();
    Truth truth = Sweeps.collapsing(i0, g, mostV, width);
    DrawnBench bench = new DrawnBench(chance, 2e-9);
    double[] ohm = Sweeps.upAndDown(Sweeps.loads(12e3, 25));
    LoadSweepRequest question =
        LoadSweepRequest.of("1mA", NOMINAL_A, COVERAGE)
            .withCompliance(OptionalDouble.of(9), 1e-3, true)
            .withReference(LoadSweepRequest.Reference.atOhm(1e3));
    LoadCurve curve = LoadCurve.of(bench.sweep(truth, ohm), question).orElseThrow();
    for (Result result : LoadResults.of(curve)) {
      if (result.quantity() == ResultQuantity.OUTPUT_CONDUCTANCE) {
        count(result, g);
      } else if (result.quantity() == ResultQuantity.OUTPUT_RESISTANCE) {
        count(result, 1 / g);
      } else if (result.quantity() == ResultQuantity.COMPLIANCE_VOLTAGE) {
        count(result, truth.fallenBy(1e-3, v -> i0 - g * v));
      }
    }
    double exact = truth.currentA().applyAsDouble(truth.voltageAt(1e3)) / NOMINAL_A - 1;
    double slope = 3e-6 * chance.nextGaussian();
    RangeMeasurements data =
        night(
            bench, question, t -> Sweeps.collapsing(i0 * (1 + slope * (t - 23)), g, mostV, width));
    RangeResponse response =
        UnitResponse.of(List.of(data), new ResponseSettings(23, Map.of(), Map.of()))
            .range("1mA")
            .orElseThrow();
    count(new ReferenceCurrent(response, question.reference(), COVERAGE).error(), exact * 1e6);
  }

  /** A few loads at a few temperatures, each visit known by its name. */
  private static RangeMeasurements night(
      DrawnBench bench, LoadSweepRequest question, DoubleFunction<Truth> unit) {
    List<ResponsePoint> points = new ArrayList<>();
    Map<Integer, RangeMeasurements.Edge> edges = new TreeMap<>();
    for (int visit = 0; visit < VISITS.length; visit++) {
      List<LoadPoint> sweep =
          bench.sweep("v" + visit + " ", unit.apply(VISITS[visit]), Sweeps.loads(12e3, 8));
      Estimate degC = bench.thermometer(VISITS[visit]);
      for (LoadPoint p : sweep) {
        points.add(
            new ResponsePoint(
                p.key(),
                visit,
                OptionalDouble.of(3600.0 * visit + p.timeS()),
                p.currentA(),
                p.voltageV(),
                degC,
                OptionalDouble.empty()));
      }
      edges.put(
          visit, RangeMeasurements.Edge.of(LoadCurve.of(sweep, question).orElseThrow(), COVERAGE));
    }
    return new RangeMeasurements("1mA", NOMINAL_A, points, edges, true);
  }

  private void temperature(RandomGenerator chance) {
    double slope = 3 * chance.nextGaussian();
    DrawnBench bench = new DrawnBench(chance, 2e-9);
    TemperatureStudy study =
        TemperatureStudy.of(bench.lap(t -> NOMINAL_A * (1 + slope * 1e-6 * (t - 23)), STAYS), 23);
    for (Result result : TemperatureResults.of(study, "1mA", COVERAGE, List.of())) {
      if (result.quantity() == ResultQuantity.TEMPCO) {
        count(result, slope);
      }
    }
  }

  /** Writes what was found, one sorted line per quantity. */
  void write(String form) {
    List<String> lines = new ArrayList<>();
    lines.add("form,quantity,values,coverage_percent,median_error_over_U,bounds,right_bounds");
    tallies.forEach(
        (name, t) ->
            lines.add(
                String.join(
                    ",",
                    form,
                    name,
                    Integer.toString(t.values()),
                    NumberText.fixed(100 * t.coverage(), 2),
                    NumberText.fixed(t.medianRatio(), 2),
                    Integer.toString(t.bounds),
                    Integer.toString(t.rightBounds))));
    try {
      Path folder = Files.createDirectories(Path.of("target", "coverage"));
      Files.write(folder.resolve(form + ".csv"), lines);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
