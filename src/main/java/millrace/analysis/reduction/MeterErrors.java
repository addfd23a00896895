// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.calibration.AccuracyStatement;
import millrace.evidence.ErrorDistribution;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;

/**
 * Type B uncertainty from an instrument's accuracy statement: +/-(p of reading + q of range),
 * rectangular unless the statement gives k (methods.md 2.2; JCGM 100:2008, 4.3.7 and 4.3.3). p and
 * q belong to instrument and range, q as an offset, beside a point-wise share from a short-term
 * transfer statement; without such a statement q counts as point-wise (methods.md 2.3).
 *
 * @param stated the statement; its absolute part belongs to q
 */
public record MeterErrors(AccuracyStatement stated) {

  /** What is said where no transfer statement is given. */
  public static final String NO_TRANSFER =
      "no short-term transfer statement: the range part of the meter's accuracy counts for each"
          + " point alone";

  /**
   * Which instrument in which of its ranges.
   *
   * @param instrument its name
   * @param fullScale of the range, above 0
   * @param unit unit of its readings
   */
  public record MeterRange(String instrument, double fullScale, String unit) {
    /**
     * The name of what shares errors.
     *
     * @return instrument and range, such as {@code ammeter 2 uA}
     */
    public String instance() {
      return instrument + " " + printed();
    }

    private String printed() {
      return switch (unit) {
        case "A" -> QuantityText.print(fullScale, Dimension.CURRENT);
        case "V" -> QuantityText.print(fullScale, Dimension.VOLTAGE);
        case "ohm" -> QuantityText.print(fullScale, Dimension.RESISTANCE);
        default -> NumberText.print(fullScale) + " " + unit;
      };
    }
  }

  /**
   * At which lab temperature a reading was taken.
   *
   * @param nowDegC lab temperature at the reading, degC
   * @param usualDegC mean of the run, degC
   */
  public record Lab(double nowDegC, double usualDegC) {}

  /**
   * Adds the errors of the statement to a reading.
   *
   * @param reading the reading
   * @param range instrument and range that it was taken in
   * @param pointKey the point that it belongs to
   * @param lab lab temperatures; empty if not known
   * @return the reading with its type B errors
   */
  public Estimate applied(Estimate reading, MeterRange range, String pointKey, Optional<Lab> lab) {
    String shared = ErrorSource.INSTRUMENT_AND_RANGE;
    double offset = stated.ofFullScale() * range.fullScale() + stated.absolute();
    Estimate out =
        reading.with(source("meter gain", shared, range, stated.ofReading(), "1"), reading.value());
    if (stated.transfer().isPresent()) {
      double share = stated.transfer().get() * range.fullScale();
      out = out.with(source("meter offset", shared, range, offset, range.unit()), 1);
      out = out.with(pointSource("meter linearity", range, pointKey, share), 1);
    } else {
      out = out.with(pointSource("meter range part", range, pointKey, offset), 1);
    }
    if (lab.isPresent()) {
      double away = lab.get().nowDegC() - reference(lab.get().usualDegC());
      out =
          out.with(
              source("meter tempco", shared, range, stated.tempcoPerK(), "1/K"),
              reading.value() * away);
    }
    return out;
  }

  /** Where the meter's own temperature error counts from: the run's lab, drawn into the band. */
  private double reference(double usualDegC) {
    return stated
        .bandDegC()
        .map(b -> Math.max(b.lower(), Math.min(b.upper(), usualDegC)))
        .orElse(usualDegC);
  }

  private ErrorSource source(
      String component, String group, MeterRange range, double limit, String unit) {
    return new ErrorSource(
        component,
        group,
        range.instance(),
        distribution(),
        OptionalDouble.empty(),
        limit / divisor(),
        unit);
  }

  private ErrorSource pointSource(
      String component, MeterRange range, String pointKey, double limit) {
    return new ErrorSource(
        component,
        ErrorSource.POINT,
        range.instance() + " " + pointKey,
        distribution(),
        OptionalDouble.empty(),
        limit / divisor(),
        range.unit());
  }

  private ErrorDistribution distribution() {
    return stated.coverageFactor().isPresent()
        ? ErrorDistribution.NORMAL
        : ErrorDistribution.RECTANGULAR;
  }

  private double divisor() {
    return stated.coverageFactor().orElse(Math.sqrt(3));
  }
}
