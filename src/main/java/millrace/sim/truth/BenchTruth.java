// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import millrace.time.Seeds;

/**
 * The true errors of one simulated bench.
 *
 * @param ammeter of the current meter
 * @param voltmeter of the voltmeter
 * @param load of the decade load
 * @param chamberK error of the chamber's thermometer, K
 * @param unitThermometerK error of the thermometer at the unit, K
 * @param leadsOhm resistance of the leads, ohm
 * @param shunt error of a shunt, a ratio; 0 without one
 */
public record BenchTruth(
    MeterTruth ammeter,
    MeterTruth voltmeter,
    LoadTruth load,
    double chamberK,
    double unitThermometerK,
    double leadsOhm,
    double shunt) {

  /** The decades of the load, from 1 mohm up. */
  private static final int DECADES = 12;

  private static final int LOWEST_DECADE = -3;

  /** The largest value of s - s^3 between -1 and 1. */
  private static final double BEND = 2 / (3 * Math.sqrt(3));

  /**
   * The errors of a meter.
   *
   * @param ranges by rising full scale
   * @param driftPerDay of the gain, a ratio per day
   */
  public record MeterTruth(List<RangeTruth> ranges, double driftPerDay) {
    private static final double DAY_S = 86_400;

    /** Copies the list. */
    public MeterTruth {
      ranges = List.copyOf(ranges);
    }

    /**
     * The reading without noise.
     *
     * @param range the index of its range
     * @param value true value, A or V
     * @param elapsed the time of the drift
     * @return A or V
     */
    public double shown(int range, double value, Duration elapsed) {
      return ranges.get(range).shown(value)
          + value * driftPerDay * elapsed.toMillis() / 1e3 / DAY_S;
    }
  }

  /**
   * One range of a meter.
   *
   * @param fullScale A or V
   * @param gain relative error
   * @param offset A or V
   * @param bend largest deviation from a straight line, A or V, at 0.58 of the full scale
   * @param resistanceOhm at its terminals, ohm
   */
  public record RangeTruth(
      double fullScale, double gain, double offset, double bend, double resistanceOhm) {
    /**
     * The reading without noise.
     *
     * @param value true value, A or V
     * @return A or V
     */
    public double shown(double value) {
      double s = Math.max(-1, Math.min(1, value / fullScale));
      return value * (1 + gain) + offset + bend * (s - s * s * s) / BEND;
    }
  }

  /**
   * The errors of a decade load.
   *
   * @param decades relative error of each decade, from 1 mohm up
   * @param residualOhm at a setting of 0, ohm
   */
  public record LoadTruth(List<Double> decades, double residualOhm) {
    /** Copies the list. */
    public LoadTruth {
      decades = List.copyOf(decades);
    }

    /**
     * The true value of a setting: each decade adds its digit with its own error.
     *
     * @param setOhm the setting, ohm, 0 or more
     * @return ohm
     */
    public double actualOhm(double setOhm) {
      double left = setOhm;
      double sum = residualOhm;
      for (int i = decades.size() - 1; i >= 0; i--) {
        double decade = Math.pow(10, i + LOWEST_DECADE);
        double part = i == 0 ? left : decade * Math.floor(left / decade * (1 + 1e-12));
        sum += part * (1 + decades.get(i));
        left = Math.max(0, left - part);
      }
      return sum;
    }
  }

  /**
   * Draws the true errors of one bench.
   *
   * @param spec the distributions of the errors
   * @param seeds the seeds
   * @return the truth
   */
  public static BenchTruth drawn(SimulatedBenchSpec spec, Seeds seeds) {
    return of(spec, new TrueValueDraw(seeds.derive("bench")));
  }

  private static BenchTruth of(SimulatedBenchSpec spec, TrueValueDraw draw) {
    return new BenchTruth(
        meter("ammeter", spec.ammeter(), draw),
        meter("voltmeter", spec.voltmeter(), draw),
        load(spec.load(), draw),
        draw.within("chamber", spec.chamber().sensorK()),
        draw.within("thermometer", spec.unitThermometerK()),
        spec.wiring().leadsOhm() * (1 + draw.within("leads", spec.wiring().leads())),
        draw.within("shunt", spec.shunt().map(SimulatedBenchSpec.ShuntSpec::spread).orElse(0.0)));
  }

  private static MeterTruth meter(
      String name, SimulatedBenchSpec.MeterSpec spec, TrueValueDraw draw) {
    List<RangeTruth> ranges = new ArrayList<>();
    for (int i = 0; i < spec.fullScales().size(); i++) {
      double full = spec.fullScales().get(i);
      String what = name + " " + i;
      ranges.add(
          new RangeTruth(
              full,
              draw.within(what + " gain", spec.ofReading()),
              full * draw.within(what + " offset", spec.ofRange()),
              full * draw.within(what + " bend", spec.transfer()),
              spec.resistanceOhm().get(i)
                  * (1 + draw.within(what + " resistance", spec.resistance()))));
    }
    return new MeterTruth(ranges, draw.within(name + " drift", spec.driftPerDay()));
  }

  private static LoadTruth load(SimulatedBenchSpec.LoadSpec spec, TrueValueDraw draw) {
    List<Double> decades = new ArrayList<>();
    for (int i = 0; i < DECADES; i++) {
      decades.add(draw.within("load " + i, spec.ofReading()));
    }
    double half = spec.residualOhm() / 2;
    return new LoadTruth(decades, half + draw.within("load residual", half));
  }
}
