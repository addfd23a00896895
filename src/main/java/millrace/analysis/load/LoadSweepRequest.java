// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import java.util.List;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Estimate;

/**
 * What is asked of a load sweep.
 *
 * @param range the range
 * @param nominalA I_N, A; 0 omits the results relative to it
 * @param complianceV the datasheet's compliance voltage, V; empty if none is promised
 * @param criterion d, by which ratio the current has fallen at the compliance voltage, above 0 and
 *     below 1
 * @param fromLine true if the fall is counted from the plateau line, false: from the short
 * @param reference where the current is promised
 * @param fixtureS conductance of the fixture, S
 * @param temperatureDegC temperature of the sweep, degC; empty if not known
 * @param coverage probability of intervals
 */
public record LoadSweepRequest(
    String range,
    double nominalA,
    OptionalDouble complianceV,
    double criterion,
    boolean fromLine,
    Reference reference,
    Estimate fixtureS,
    OptionalDouble temperatureDegC,
    double coverage) {

  /** The criterion that counts unless a datasheet says otherwise (methods.md 3.3). */
  public static final double USUAL_CRITERION = 1e-3;

  /** Checks the criterion. */
  public LoadSweepRequest {
    if (!(criterion > 0 && criterion < 1)) {
      throw new IllegalArgumentException(
          "the compliance criterion is " + criterion + ", must be above 0 and below 1");
    }
  }

  /**
   * Where the current is promised: at a load, or at a voltage.
   *
   * @param value ohm or V, 0 or more
   * @param isVoltage true if it is a voltage
   */
  public record Reference(double value, boolean isVoltage) {
    /** Into a short. */
    public static final Reference SHORT = new Reference(0, true);

    /**
     * At a load.
     *
     * @param ohm the load, 0 or more
     * @return the reference
     */
    public static Reference atOhm(double ohm) {
      return new Reference(ohm, false);
    }

    /**
     * The reference for a study without a datasheet: the lowest load tested.
     *
     * @param points the points of the sweep
     * @return the reference; a short where no point names a load
     */
    public static Reference lowest(List<LoadPoint> points) {
      return points.stream()
          .flatMap(p -> p.loadOhm().stream().boxed())
          .min(Double::compare)
          .map(Reference::atOhm)
          .orElse(SHORT);
    }
  }

  /**
   * A question with the usual criterion, from the line, into a short, without a fixture.
   *
   * @param range the range
   * @param nominalA I_N, A
   * @param coverage probability of intervals
   * @return the question
   */
  public static LoadSweepRequest of(String range, double nominalA, double coverage) {
    return new LoadSweepRequest(
        range,
        nominalA,
        OptionalDouble.empty(),
        USUAL_CRITERION,
        true,
        Reference.SHORT,
        Estimate.exact(0),
        OptionalDouble.empty(),
        coverage);
  }

  /**
   * The same with the datasheet's compliance voltage.
   *
   * @param volt compliance voltage, V
   * @param ratio criterion
   * @param line true if the fall is counted from the plateau line
   * @return the question
   */
  public LoadSweepRequest withCompliance(OptionalDouble volt, double ratio, boolean line) {
    return new LoadSweepRequest(
        range, nominalA, volt, ratio, line, reference, fixtureS, temperatureDegC, coverage);
  }

  /**
   * The same at another reference.
   *
   * @param where where the current is promised
   * @return the question
   */
  public LoadSweepRequest withReference(Reference where) {
    return new LoadSweepRequest(
        range,
        nominalA,
        complianceV,
        criterion,
        fromLine,
        where,
        fixtureS,
        temperatureDegC,
        coverage);
  }

  /**
   * The same at a temperature.
   *
   * @param degC temperature of the sweep, degC
   * @return the question
   */
  public LoadSweepRequest withTemperature(OptionalDouble degC) {
    return new LoadSweepRequest(
        range, nominalA, complianceV, criterion, fromLine, reference, fixtureS, degC, coverage);
  }

  /**
   * The same with a fixture.
   *
   * @param conductanceS of the fixture, S
   * @return the question
   */
  public LoadSweepRequest withFixture(Estimate conductanceS) {
    return new LoadSweepRequest(
        range,
        nominalA,
        complianceV,
        criterion,
        fromLine,
        reference,
        conductanceS,
        temperatureDegC,
        coverage);
  }
}
