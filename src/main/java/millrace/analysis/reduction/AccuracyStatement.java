// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.Source;
import millrace.evidence.Distribution;
import millrace.quantity.Dimension;
import millrace.quantity.Numbers;
import millrace.quantity.Quantities;

/**
 * Type B uncertainty from an instrument's accuracy statement: +/-(p of reading + q of range),
 * rectangular unless the statement gives k (methods.md 2.2; JCGM 100:2008, 4.3.7 and 4.3.3). p and
 * q belong to instrument and range, q as an offset, beside a point-wise share from a short-term
 * transfer statement; without such a statement q counts as point-wise (methods.md 2.3).
 *
 * @param ofReading p, a ratio, 0 or more
 * @param ofFullScale q, a ratio, 0 or more
 * @param absolute in the unit of the reading, 0 or more; belongs to q
 * @param coverageFactor k if the statement gives one, above 0; empty: limits of a rectangle
 * @param transferOfFullScale short-term linearity, a ratio of full scale; empty: none stated
 * @param tempcoPerK of reading per kelvin of the lab, 1/K, 0 or more
 * @param bandDegC the lab temperatures that p and q hold for
 */
public record AccuracyStatement(
    double ofReading,
    double ofFullScale,
    double absolute,
    OptionalDouble coverageFactor,
    OptionalDouble transferOfFullScale,
    double tempcoPerK,
    Optional<Band> bandDegC) {

  /** What is said where no transfer statement is given. */
  public static final String NO_TRANSFER =
      "no short-term transfer statement: the range part of the meter's accuracy counts for each"
          + " point alone";

  /**
   * An interval of lab temperature.
   *
   * @param lowDegC its lower end, degC
   * @param highDegC its upper end, degC
   */
  public record Band(double lowDegC, double highDegC) {}

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
        case "A" -> Quantities.print(fullScale, Dimension.CURRENT);
        case "V" -> Quantities.print(fullScale, Dimension.VOLTAGE);
        case "ohm" -> Quantities.print(fullScale, Dimension.RESISTANCE);
        default -> Numbers.print(fullScale) + " " + unit;
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

  /** Checks that sizes are not negative. */
  public AccuracyStatement {
    double least = Math.min(Math.min(ofReading, ofFullScale), Math.min(absolute, tempcoPerK));
    if (!(least >= 0)) {
      throw new IllegalArgumentException(
          "an accuracy statement with " + least + "; expected 0 or more");
    }
    if (coverageFactor.isPresent() && !(coverageFactor.getAsDouble() > 0)) {
      throw new IllegalArgumentException(
          "k is " + coverageFactor.getAsDouble() + "; expected above 0");
    }
  }

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
    String shared = Source.INSTRUMENT_AND_RANGE;
    double offset = ofFullScale * range.fullScale() + absolute;
    Estimate out =
        reading.with(source("meter gain", shared, range, ofReading, "1"), reading.value());
    if (transferOfFullScale.isPresent()) {
      double share = transferOfFullScale.getAsDouble() * range.fullScale();
      out = out.with(source("meter offset", shared, range, offset, range.unit()), 1);
      out = out.with(pointSource("meter linearity", range, pointKey, share), 1);
    } else {
      out = out.with(pointSource("meter range part", range, pointKey, offset), 1);
    }
    if (lab.isPresent()) {
      double away = lab.get().nowDegC() - reference(lab.get().usualDegC());
      out =
          out.with(
              source("meter tempco", shared, range, tempcoPerK, "1/K"), reading.value() * away);
    }
    return out;
  }

  /** Where the meter's own temperature error counts from: the run's lab, drawn into the band. */
  private double reference(double usualDegC) {
    return bandDegC
        .map(b -> Math.max(b.lowDegC(), Math.min(b.highDegC(), usualDegC)))
        .orElse(usualDegC);
  }

  private Source source(
      String component, String group, MeterRange range, double limit, String unit) {
    return new Source(
        component,
        group,
        range.instance(),
        distribution(),
        OptionalDouble.empty(),
        limit / divisor(),
        unit);
  }

  private Source pointSource(String component, MeterRange range, String pointKey, double limit) {
    return new Source(
        component,
        Source.POINT,
        range.instance() + " " + pointKey,
        distribution(),
        OptionalDouble.empty(),
        limit / divisor(),
        range.unit());
  }

  private Distribution distribution() {
    return coverageFactor.isPresent() ? Distribution.NORMAL : Distribution.RECTANGULAR;
  }

  private double divisor() {
    return coverageFactor.orElse(Math.sqrt(3));
  }
}
