// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.util.Arrays;

/**
 * A long series of readings under constant conditions, from which the law of slow noise is
 * identified (methods.md 2.1, 5.10, 6.3e). Immutable and thread-safe.
 */
public final class LongRecord {
  private final String name;
  private final double[] timesS;
  private final double[] values;
  private final boolean anotherUnit;

  private LongRecord(String name, double[] timesS, double[] values, boolean anotherUnit) {
    this.name = name;
    this.anotherUnit = anotherUnit;
    this.timesS = timesS;
    this.values = values;
  }

  /**
   * A record.
   *
   * @param name what people call it, for example {@code run 12}
   * @param timesS when, s, rising
   * @param values the readings, in ppm of the nominal current
   * @return the record; both arrays are copied
   * @throws IllegalArgumentException if lengths differ or there are fewer than three readings
   */
  public static LongRecord of(String name, double[] timesS, double[] values) {
    if (timesS.length != values.length || values.length < 3) {
      throw new IllegalArgumentException(
          "%s times for %s readings; expected as many, and three or more"
              .formatted(timesS.length, values.length));
    }
    return new LongRecord(name, timesS.clone(), values.clone(), false);
  }

  /**
   * The same as a record of another unit in the same setting of the meter: it tells the noise of
   * the meter, and of a unit like this one.
   *
   * @return the record
   */
  public LongRecord ofAnotherUnit() {
    return new LongRecord(name, timesS, values, true);
  }

  /**
   * Tells whether it is of another unit.
   *
   * @return true if so
   */
  public boolean isOfAnotherUnit() {
    return anotherUnit;
  }

  /**
   * The rms of the steps from reading to reading, which fast noise makes.
   *
   * @return ppm of the nominal current
   */
  public double stepPpm() {
    double sum = 0;
    for (int i = 1; i < values.length; i++) {
      sum += (values[i] - values[i - 1]) * (values[i] - values[i - 1]);
    }
    return Math.sqrt(sum / (values.length - 1));
  }

  /**
   * What people call it.
   *
   * @return its name
   */
  public String name() {
    return name;
  }

  /**
   * How many readings it has.
   *
   * @return 3 or more
   */
  public int size() {
    return values.length;
  }

  /**
   * From the first reading to the last.
   *
   * @return s
   */
  public double spanS() {
    return timesS[timesS.length - 1] - timesS[0];
  }

  /**
   * The median time from reading to reading.
   *
   * @return s
   */
  public double intervalS() {
    return ReadingIntervals.median(timesS);
  }

  /**
   * Tells whether its reading interval equals that of another series within 10 %.
   *
   * @param intervalS time from reading to reading of the other, s
   * @return true if so
   */
  public boolean paced(double intervalS) {
    return Math.abs(intervalS() / intervalS - 1) <= 0.1;
  }

  /** Its evidence for each law, with free level and slope. */
  LawEvidence evidence(NoiseLaws laws) {
    CosineBasis basis = new CosineBasis(size());
    double[][] spectra = ReadingIntervals.spectra(laws, basis);
    return LawEvidence.ofSeries(
        laws,
        spectra,
        basis.coefficients(HampelClipping.of(values)),
        basis.coefficients(ReadingIntervals.centred(timesS)));
  }

  @Override
  public String toString() {
    return "%s, %s readings over %s s"
        .formatted(name, size(), Arrays.stream(timesS).max().orElse(0) - timesS[0]);
  }
}
