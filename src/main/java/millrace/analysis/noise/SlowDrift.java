// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.IntToDoubleFunction;

/**
 * The least-squares slope of clipped readings over time, with an interval that holds for white and
 * for slow noise: which law the noise follows is told by the readings themselves, and by a record
 * beside where there is one (methods.md 6.3). Pure; thread-safe.
 */
public final class SlowDrift {
  /** Fewer readings than this give no interval. */
  public static final int LEAST = 10;

  private static final int FEW = 30;
  private static final int MOST = 5000;
  private static final int LEAST_BESIDE = 1000;
  private static final int TIMES_LONGER = 4;
  private static final int LOWEST = 8;

  private final double[] times;
  private final double[] values;
  private final int length;
  private final double[] weights;
  private final double slope;

  private SlowDrift(double[] times, double[] values, int length) {
    this.times = times;
    this.values = values;
    this.length = length;
    double[] about = ReadingIntervals.centred(times);
    double square = Arrays.stream(about).map(t -> t * t).sum();
    this.weights = Arrays.stream(about).map(t -> t / square).toArray();
    double sum = 0;
    double[] level = ReadingIntervals.centred(values);
    for (int i = 0; i < weights.length; i++) {
      sum += weights[i] * level[i];
    }
    this.slope = sum;
  }

  /**
   * The drift of a series.
   *
   * @param times rising, not all equal, in the unit that the slope is wanted by
   * @param values as many, two or more
   * @return the drift; above 5,000 readings of means of successive ones
   */
  public static SlowDrift of(IntToDoubleFunction times, double[] values) {
    double[] clipped = HampelClipping.of(values);
    int length = (values.length + MOST - 1) / MOST;
    int count = values.length / length;
    double[] t = new double[count];
    double[] y = new double[count];
    for (int i = 0; i < count * length; i++) {
      t[i / length] += times.applyAsDouble(i) / length;
      y[i / length] += clipped[i] / length;
    }
    return new SlowDrift(t, y, length);
  }

  /**
   * The slope.
   *
   * @return value per time
   */
  public double slope() {
    return slope;
  }

  /**
   * How many successive readings make one value.
   *
   * @return 1 up to 5,000 readings
   */
  public int length() {
    return length;
  }

  /**
   * The times that the slope is taken over.
   *
   * @return those of the values
   */
  public double[] times() {
    return times.clone();
  }

  /**
   * The values that the slope is taken over.
   *
   * @return clipped
   */
  public double[] values() {
    return values.clone();
  }

  /**
   * The interval of the slope.
   *
   * @param expanded U; empty where the law of the noise is not told
   * @param notes how the law was told
   */
  public record Interval(OptionalDouble expanded, List<String> notes) {
    /** Copies the notes. */
    public Interval {
      notes = List.copyOf(notes);
    }
  }

  /**
   * The interval (methods.md 6.3b to e).
   *
   * @param beside a record of the same unit and setting, none of its readings among these; used if
   *     it is long enough and paced alike
   * @param secondsPerTime how many seconds one unit of the times has
   * @param coverage probability of the interval
   * @return U and how it was found
   */
  public Interval interval(Optional<LongRecord> beside, double secondsPerTime, double coverage) {
    int n = values.length;
    if (n < LEAST) {
      return new Interval(
          OptionalDouble.empty(),
          List.of("%s readings do not tell the law of their noise: no interval".formatted(n)));
    }
    Optional<LongRecord> joined = beside.filter(r -> joins(r, secondsPerTime));
    NoiseLaws laws = NoiseLaws.of(joined.map(LongRecord::size).orElse(n), length > 1);
    CosineBasis basis = new CosineBasis(n);
    double[][] spectra = ReadingIntervals.spectra(laws, basis);
    double[] t = basis.coefficients(ReadingIntervals.centred(times));
    double[] y = basis.coefficients(values);
    LawEvidence evidence = LawEvidence.ofSeries(laws, spectra, y, t);
    if (!(Arrays.stream(evidence.squares()).max().orElse(0) > 0)) {
      return new Interval(OptionalDouble.of(0), List.of());
    }
    NoiseLawMixture mixture =
        NoiseLawMixture.of(laws, joined.map(r -> evidence.and(r.evidence(laws))).orElse(evidence));
    double[] byKernel =
        KernelQuadraticForms.of(
            laws.kernels(), ReadingIntervals.over(times, ReadingIntervals.median(times)), weights);
    double u = mixture.expanded(byKernel, coverage);
    double wider = joined.isPresent() ? misfit(mixture, spectra, residuals(y, t)) : 1;
    return new Interval(OptionalDouble.of(u * wider), notes(joined, wider));
  }

  private boolean joins(LongRecord record, double secondsPerTime) {
    int n = values.length;
    return length == 1
        && record.size() >= Math.max(LEAST_BESIDE, TIMES_LONGER * n)
        && record.paced(ReadingIntervals.median(times) * secondsPerTime);
  }

  /** The coefficients of the residuals of the least-squares line. */
  private static double[] residuals(double[] y, double[] t) {
    double yt = 0;
    double tt = 0;
    for (int k = 0; k < y.length; k++) {
      yt += y[k] * t[k];
      tt += t[k] * t[k];
    }
    double[] e = new double[y.length];
    for (int k = 0; k < e.length; k++) {
      e[k] = y[k] - yt / tt * t[k];
    }
    return e;
  }

  /** By how much these readings wander more than the joined law lets them: 1 or more. */
  private static double misfit(NoiseLawMixture mixture, double[][] spectra, double[] e) {
    double q = 0;
    for (int k = 1; k <= LOWEST && k < e.length; k++) {
      double[] byKernel = new double[spectra.length];
      for (int a = 0; a < byKernel.length; a++) {
        byKernel[a] = spectra[a][k];
      }
      q += e[k] * e[k] / mixture.variance(byKernel);
    }
    return Math.max(1, Math.sqrt(q / LOWEST));
  }

  private List<String> notes(Optional<LongRecord> joined, double wider) {
    List<String> notes = new ArrayList<>();
    int n = values.length;
    if (joined.isPresent()) {
      notes.add("noise law from this record and %s".formatted(joined.get().name()));
      if (wider > 1) {
        notes.add("this record wanders more than the other: U is widened");
      }
      return notes;
    }
    notes.add(
        n < FEW
            ? "noise law poorly determined by %s readings".formatted(n)
            : "noise law from this record");
    notes.add(
        "white noise and a random walk that are alike over a record cannot be separated by any"
            + " method: U may then be too small (covers 73 to 92 % instead of 95 %)");
    return notes;
  }
}
