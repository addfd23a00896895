// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The response of one unit, its current at any condition: one response per range, with a common
 * scatter between visits (methods.md 11). Immutable and thread-safe.
 */
public final class UnitResponse {
  /** Candidates for the scatter between visits, a number. */
  private static final double[] SCATTERS = {0, 0.03e-6, 0.1e-6, 0.3e-6, 1e-6, 3e-6, 10e-6};

  private static final double HALF_CAUCHY = 0.1e-6;
  private static final double WEIGHT_OF_NONE = 0.3;

  /** Up to this number of visits without repeats do not determine their scatter. */
  private static final int MOST_ASSUMED = 3;

  private final Map<String, RangeResponse> ranges;
  private final Map<String, String> missing;

  private final List<String> names;

  private UnitResponse(
      List<String> names, Map<String, RangeResponse> ranges, Map<String, String> missing) {
    this.names = names;
    this.ranges = ranges;
    this.missing = missing;
  }

  /**
   * Fits (methods.md 11.1, 11.2).
   *
   * @param data what was measured, by range
   * @param settings reference temperature and coefficients from other sources
   * @return the responses
   */
  public static UnitResponse of(List<RangeMeasurements> data, ResponseSettings settings) {
    Map<String, String> missing = new LinkedHashMap<>();
    List<RangeLeastSquaresProblem> problems = new ArrayList<>();
    OptionalDouble middle = middleS(data);
    for (RangeMeasurements each : data) {
      ResponseFitPoints measured = ResponseFitPoints.of(each, settings.referenceDegC(), middle);
      if (measured.points().isEmpty()) {
        missing.put(each.range(), nothing(each));
      } else {
        problems.add(problem(measured, settings));
      }
    }
    Scatter scatter = Scatter.of(problems);
    Map<RangeLeastSquaresProblem, List<FitAtVisitScatter>> fits = new LinkedHashMap<>();
    List<List<FitAtVisitScatter>> tried =
        problems.parallelStream()
            .map(p -> Arrays.stream(scatter.tried()).mapToObj(p::fit).toList())
            .toList();
    for (int i = 0; i < problems.size(); i++) {
      RangeLeastSquaresProblem p = problems.get(i);
      List<FitAtVisitScatter> own = tried.get(i);
      if (own.stream().allMatch(RangeLeastSquaresProblem::tells)) {
        fits.put(p, own);
      } else {
        missing.put(
            p.measured().data().range(),
            "its points do not tell the slope over voltage from that over temperature: measure two"
                + " loads at one temperature");
      }
    }
    double[] weights = scatter.weights(List.copyOf(fits.values()));
    Map<String, RangeResponse> ranges = new LinkedHashMap<>();
    fits.forEach(
        (p, own) ->
            ranges.put(
                p.measured().data().range(),
                new RangeResponse(
                    p,
                    new ResponseSurface(p, own, weights, scatter.name()),
                    settings,
                    scatter.notes())));
    return new UnitResponse(data.stream().map(RangeMeasurements::range).toList(), ranges, missing);
  }

  private static String nothing(RangeMeasurements data) {
    return data.points().isEmpty()
        ? "range " + data.range() + " has no point with a current"
        : "the current falls from the lowest load on, so there is no plateau: start the sweep at"
            + " lower loads";
  }

  private static OptionalDouble middleS(List<RangeMeasurements> data) {
    double[] times =
        data.stream()
            .flatMap(d -> d.points().stream())
            .map(ResponsePoint::timeS)
            .filter(OptionalDouble::isPresent)
            .mapToDouble(OptionalDouble::getAsDouble)
            .sorted()
            .toArray();
    return times.length == 0
        ? OptionalDouble.empty()
        : OptionalDouble.of((times[0] + times[times.length - 1]) / 2);
  }

  private static RangeLeastSquaresProblem problem(ResponseFitPoints m, ResponseSettings settings) {
    ResponseTermScales scales = ResponseTermScales.of(m, settings.curvature(m.data().range()));
    CoefficientPriors priors = CoefficientPriors.of(m, scales, settings.of(m.data().range()));
    return new RangeLeastSquaresProblem(m, priors, ResponsePointErrors.of(m, priors.perKelvin()));
  }

  /**
   * The candidates for the scatter between visits, with their weights (methods.md 11.2).
   *
   * @param tried standard deviations, numbers
   * @param measured true if repeated visits show it; false: it is assumed
   * @param name its name in a budget
   * @param notes notes for the reader
   */
  @SuppressWarnings("ArrayRecordComponent") // read only in this package, never compared
  private record Scatter(double[] tried, boolean measured, String name, List<String> notes) {
    private static final String NAME = "scatter between visits";

    static Scatter of(List<RangeLeastSquaresProblem> problems) {
      int most = problems.stream().mapToInt(p -> p.measured().visits().size()).max().orElse(0);
      boolean repeated =
          problems.stream()
              .anyMatch(p -> p.measured().visits().size() > p.measured().temperatures().size());
      if (most < 2) {
        return new Scatter(
            new double[] {0}, false, NAME, List.of("scatter between visits unknown: one visit"));
      } else if (most <= MOST_ASSUMED && !repeated) {
        return new Scatter(
            SCATTERS,
            false,
            NAME + " (visits not repeated)",
            List.of("visits not repeated: how much they scatter is assumed"));
      }
      return new Scatter(SCATTERS, true, NAME, List.of());
    }

    /** Half-Cauchy per octave times the likelihoods of all ranges; normalized to a sum of 1. */
    double[] weights(List<List<FitAtVisitScatter>> fits) {
      double[] logs = new double[tried.length];
      for (int k = 0; k < tried.length; k++) {
        double r = tried[k] / HALF_CAUCHY;
        logs[k] = Math.log(tried[k] == 0 ? WEIGHT_OF_NONE : r / (1 + r * r));
        for (List<FitAtVisitScatter> range : fits) {
          logs[k] += measured ? range.get(k).logLikelihood() : 0;
        }
      }
      double most = Arrays.stream(logs).max().orElse(0);
      double[] weights = Arrays.stream(logs).map(l -> Math.exp(l - most)).toArray();
      double sum = Arrays.stream(weights).sum();
      return Arrays.stream(weights).map(w -> w / sum).toArray();
    }
  }

  /**
   * The response of a range.
   *
   * @param name the range
   * @return the response; empty where {@link #whyNot} says why
   */
  public Optional<RangeResponse> range(String name) {
    return Optional.ofNullable(ranges.get(name));
  }

  /**
   * All responses.
   *
   * @return by range, in the order of the data
   */
  public List<RangeResponse> ranges() {
    return List.copyOf(ranges.values());
  }

  /**
   * All ranges of the data, including those without a response.
   *
   * @return their names, in the order of the data
   */
  public List<String> names() {
    return names;
  }

  /**
   * Why a range has no response.
   *
   * @param name the range
   * @return the reason in words; empty where it has one
   */
  public Optional<String> whyNot(String name) {
    return range(name).isPresent()
        ? Optional.empty()
        : Optional.of(missing.getOrDefault(name, "range " + name + " was not measured"));
  }
}
