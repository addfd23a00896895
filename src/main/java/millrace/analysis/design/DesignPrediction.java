// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import millrace.evidence.ResultQuantity;
import millrace.time.Seeds;

/**
 * What a design predicts of every range: nominal value, worst case, root-sum-square and the spread
 * over drawn units (methods.md 10).
 *
 * <p>The worst case puts every part at its unfavourable limit; this is exact, since every quantity
 * is monotonic in each part. The root-sum-square adds the effects of the half-widths, found one at
 * a time. The drawn units have every part equally likely anywhere in its tolerance (JCGM 101:2008,
 * 6.4.2), all ranges of one unit from one draw, so that common parts correlate them.
 *
 * <p>Immutable and thread-safe.
 */
public final class DesignPrediction {
  /** Rounding difference of two ppm figures that should be equal, ppm. */
  private static final double ROUNDING_PPM = 1e-7;

  private final DesignCircuit circuit;
  private final double coverage;
  private final List<double[]> units;

  private DesignPrediction(DesignCircuit circuit, double coverage, List<double[]> units) {
    this.circuit = circuit;
    this.coverage = coverage;
    this.units = units;
  }

  /**
   * Draws units.
   *
   * @param circuit the design
   * @param coverage share of the drawn units that the intervals hold, above 0 and below 1
   * @param trials how many units are drawn, 100 to 1,000,000
   * @param seeds of the random draws
   * @return the prediction (methods.md 10)
   * @throws IllegalArgumentException if coverage or trials are out of their range
   */
  public static DesignPrediction of(
      DesignCircuit circuit, double coverage, int trials, Seeds seeds) {
    if (!(coverage > 0 && coverage < 1) || trials < 100 || trials > 1_000_000) {
      throw new IllegalArgumentException(
          "%s of %s units; expected a share within 0 and 1, of 100 to 1,000,000 units"
              .formatted(coverage, trials));
    }
    SplittableRandom random = seeds.stream("units of a design");
    SplittableRandom curved = seeds.stream("curvatures of a design");
    List<double[]> units = new ArrayList<>(trials);
    for (int i = 0; i < trials; i++) {
      units.add(draw(circuit.deviations(), random, curved));
    }
    return new DesignPrediction(circuit, coverage, units);
  }

  private static double[] halfWidths(DesignCircuit circuit) {
    return circuit.deviations().stream().mapToDouble(DesignDeviation::halfWidth).toArray();
  }

  /**
   * Curvatures are drawn from a stream of their own, so that they do not alter the draws of the
   * other parts.
   */
  private static double[] draw(
      List<DesignDeviation> deviations, SplittableRandom random, SplittableRandom curved) {
    double[] x = new double[deviations.size()];
    for (int i = 0; i < x.length; i++) {
      DesignDeviation d = deviations.get(i);
      SplittableRandom from = d.kind().isCurvature() ? curved : random;
      x[i] = d.halfWidth() * (2 * from.nextDouble() - 1);
    }
    return x;
  }

  /**
   * The design that was asked about.
   *
   * @return the circuit
   */
  public DesignCircuit circuit() {
    return circuit;
  }

  /**
   * The share of the drawn units that the intervals hold.
   *
   * @return above 0 and below 1
   */
  public double coverage() {
    return coverage;
  }

  /**
   * How many units were drawn.
   *
   * @return their count
   */
  public int trials() {
    return units.size();
  }

  /**
   * Current, current error, tempco, quadratic coefficient, output resistance and compliance voltage
   * of every range (methods.md 10). The current counts at the reference load and T_ref; ppm are of
   * I_N, in the tempco of the current at T_ref. The compliance voltage is the headroom.
   *
   * @return six forecasts per range, in the order of the ranges
   */
  public List<DesignForecast> ranges() {
    return circuit.ranges().stream().flatMap(r -> range(r).stream()).toList();
  }

  private List<DesignForecast> range(RangeCircuitModel range) {
    String name = range.design().name();
    return List.of(
        forecast(ResultQuantity.CURRENT, name, DesignQuantities.current(circuit, range), ""),
        forecast(
            ResultQuantity.CURRENT_ERROR, name, DesignQuantities.currentError(circuit, range), ""),
        forecast(ResultQuantity.TEMPCO, name, DesignQuantities.tempco(circuit, range), ""),
        forecast(
            ResultQuantity.TEMPCO_QUADRATIC_B,
            name,
            DesignQuantities.curvature(circuit, range),
            ""),
        forecast(
            ResultQuantity.OUTPUT_RESISTANCE,
            name,
            DesignQuantities.outputResistance(circuit, range),
            "neither an amplifier nor a leakage among its parts: the parts give no output"
                + " resistance"),
        forecast(
            ResultQuantity.COMPLIANCE_VOLTAGE,
            name,
            DesignQuantities.compliance(range),
            "no supply among its parts: the parts give no headroom"));
  }

  /**
   * What every drawn unit comes to in one quantity of one range: of two calls, values at the same
   * place are of the same unit, so that common parts correlate them (methods.md 10).
   *
   * @param quantity one of those of {@link #ranges}
   * @param range the name of a range
   * @return in the unit of the quantity, not sorted; empty where the parts do not give it
   */
  public Optional<double[]> drawn(ResultQuantity quantity, String range) {
    return circuit.ranges().stream()
        .filter(r -> r.design().name().equals(range))
        .findFirst()
        .flatMap(r -> measure(quantity, r))
        .map(m -> units.stream().map(m::of).toList())
        .filter(values -> values.stream().allMatch(OptionalDouble::isPresent))
        .map(values -> values.stream().mapToDouble(OptionalDouble::getAsDouble).toArray());
  }

  private Optional<DesignQuantity> measure(ResultQuantity quantity, RangeCircuitModel range) {
    return switch (quantity) {
      case CURRENT -> Optional.of(DesignQuantities.current(circuit, range));
      case CURRENT_ERROR -> Optional.of(DesignQuantities.currentError(circuit, range));
      case TEMPCO -> Optional.of(DesignQuantities.tempco(circuit, range));
      case OUTPUT_RESISTANCE -> Optional.of(DesignQuantities.outputResistance(circuit, range));
      case COMPLIANCE_VOLTAGE -> Optional.of(DesignQuantities.compliance(range));
      default -> Optional.empty();
    };
  }

  /**
   * Ratio error and tracking of each range against the next (methods.md 4.3, 5.7 and 10). What both
   * ranges share cancels; within a network only the tracking figures are left.
   *
   * @return two forecasts per pair of neighbours
   */
  public List<DesignForecast> ratios() {
    List<DesignForecast> all = new ArrayList<>();
    List<RangeCircuitModel> ranges = circuit.ranges();
    for (int i = 0; i + 1 < ranges.size(); i++) {
      RangeCircuitModel a = ranges.get(i);
      RangeCircuitModel b = ranges.get(i + 1);
      all.add(pair(ResultQuantity.RANGE_RATIO_ERROR, a, b, DesignQuantities.ratio(circuit, a, b)));
      all.add(pair(ResultQuantity.TRACKING, a, b, DesignQuantities.tracking(circuit, a, b)));
    }
    return all;
  }

  private DesignForecast pair(
      ResultQuantity quantity, RangeCircuitModel a, RangeCircuitModel b, DesignQuantity measure) {
    DesignForecast one = forecast(quantity, a.design().name(), measure, "");
    return new DesignForecast(
        quantity, one.range(), Optional.of(b.design().name()), one.spread(), one.missing());
  }

  private DesignForecast forecast(
      ResultQuantity quantity, String range, DesignQuantity measure, String missing) {
    double[] none = new double[circuit.deviations().size()];
    OptionalDouble nominal = measure.of(none);
    return nominal.isPresent()
        ? new DesignForecast(
            quantity,
            range,
            Optional.empty(),
            Optional.of(spread(measure, quantity.unit().startsWith("ppm") ? ROUNDING_PPM : 0)),
            Optional.empty())
        : new DesignForecast(
            quantity, range, Optional.empty(), Optional.empty(), Optional.of(missing));
  }

  private DesignForecast.Spread spread(DesignQuantity measure, double rounding) {
    double[] halfWidths = halfWidths(circuit);
    double[] effects = effects(measure, halfWidths, rounding);
    double squares = Arrays.stream(effects).map(e -> e * e).sum();
    double[] drawn =
        units.stream().mapToDouble(x -> measure.of(x).orElseThrow()).sorted().toArray();
    double mean = Arrays.stream(drawn).sum() / drawn.length;
    double scatter = Arrays.stream(drawn).map(d -> (d - mean) * (d - mean)).sum();
    int out = (int) Math.floor((1 - coverage) / 2 * drawn.length);
    return new DesignForecast.Spread(
        measure.of(new double[effects.length]).orElseThrow(),
        corner(measure, halfWidths, effects, -1),
        corner(measure, halfWidths, effects, 1),
        Math.sqrt(squares),
        mean,
        Math.sqrt(scatter / (drawn.length - 1)),
        drawn[out],
        drawn[drawn.length - 1 - out],
        shares(effects, squares));
  }

  /**
   * Half the difference of the quantity between both ends of each tolerance, the other parts at
   * nominal.
   */
  private static double[] effects(DesignQuantity measure, double[] halfWidths, double rounding) {
    double[] effects = new double[halfWidths.length];
    double[] x = new double[halfWidths.length];
    for (int i = 0; i < x.length; i++) {
      x[i] = halfWidths[i];
      double high = measure.of(x).orElseThrow();
      x[i] = -halfWidths[i];
      double low = measure.of(x).orElseThrow();
      double noise = rounding + 1e-13 * (Math.abs(high) + Math.abs(low));
      effects[i] = Math.abs(high - low) > noise ? (high - low) / 2 : 0;
      x[i] = 0;
    }
    return effects;
  }

  private static double corner(
      DesignQuantity measure, double[] halfWidths, double[] effects, int direction) {
    double[] x = new double[effects.length];
    for (int i = 0; i < x.length; i++) {
      x[i] = direction * Math.signum(effects[i]) * halfWidths[i];
    }
    return measure.of(x).orElseThrow();
  }

  private List<DeviationContribution> shares(double[] effects, double squares) {
    List<DeviationContribution> shares = new ArrayList<>();
    for (int i = 0; i < effects.length; i++) {
      DesignDeviation d = circuit.deviations().get(i);
      double share = squares > 0 ? effects[i] * effects[i] / squares : 0;
      if (share > 0) {
        shares.add(new DeviationContribution(d.of(), d.kind(), effects[i], share));
      }
    }
    shares.sort(Comparator.comparingDouble(DeviationContribution::share).reversed());
    return shares;
  }
}
