// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ErrorDistribution;

/**
 * How a meter drifted over a run, by a check standard that was looked at again and again
 * (methods.md 2.7): its ratio of reading to standard, linear in time from one look to the next,
 * relative to the mean of all looks. What the meter may have done between two looks widens that: a
 * random walk that is pinned at both ends has the variance s^2 (t - a)(b - t)/(b - a) (Brownian
 * bridge; Karatzas and Shreve, Brownian Motion and Stochastic Calculus, 1991, 5.6.B, from memory),
 * s^2 from how far the steps from look to look differ from an even rate, the noise of looks taken
 * off. With two looks alone it may have been anywhere between them.
 *
 * <p>Immutable and thread-safe.
 */
public final class MeterDrift {
  /** What the noise of looks is called in a budget. */
  public static final String READING = "check standard reading";

  /** What lies between looks is called in a budget. */
  public static final String WANDER = "meter drift between check standards";

  /** What a range in which no standard was read carries of the drift seen elsewhere. */
  public static final String ELSEWHERE = "meter drift seen in another range";

  private static final double HOUR_S = 3600;

  private final String instance;
  private final List<Look> looks;
  private final Estimate mean;
  private final Walk walk;

  /** How a gain walks: variance in an hour, and how well that is known. */
  private record Walk(double variancePerHour, double degreesOfFreedom) {}

  /**
   * One look at the check standard.
   *
   * @param timeS when, from the start of the run, s
   * @param ratio reading over what the standard drives, less 1
   */
  public record Look(double timeS, Estimate ratio) {
    /**
     * A look whose own errors are named after the check standard.
     *
     * @param timeS when, from the start of the run, s
     * @param readingA what the meter read, A
     * @param standardA what the standard drives, A, not 0
     * @return the look
     */
    public static Look of(double timeS, Estimate readingA, double standardA) {
      Estimate ratio = readingA.times(1 / standardA).plus(-1);
      return new Look(timeS, ratio.withSources(s -> s.pointWise() ? named(s) : s));
    }

    private static ErrorSource named(ErrorSource s) {
      return new ErrorSource(
          READING,
          ErrorSource.TEMPERATURE_STEP,
          s.component() + " " + s.instance(),
          s.distribution(),
          s.degreesOfFreedom(),
          s.value(),
          s.unit(),
          s.pool());
    }
  }

  private MeterDrift(String instance, List<Look> looks) {
    this.instance = instance;
    this.looks = looks;
    this.mean = Estimate.mean(looks.stream().map(Look::ratio).toList());
    this.walk = walk();
  }

  /**
   * The drift of a meter in one of its ranges.
   *
   * @param instance meter and range
   * @param looks in any order, at least two
   * @return the drift
   * @throws IllegalArgumentException if there are fewer
   */
  public static MeterDrift of(String instance, List<Look> looks) {
    if (looks.size() < 2) {
      throw new IllegalArgumentException(
          "a drift from %s looks at a check standard; expected 2 or more".formatted(looks.size()));
    }
    List<Look> sorted = new ArrayList<>(looks);
    sorted.sort(Comparator.comparingDouble(Look::timeS));
    return new MeterDrift(instance, List.copyOf(sorted));
  }

  /**
   * The walk's variance in an hour and its degrees of freedom: sum of (d_i - r h_i)^2/h_i over n -
   * 2, d_i the step from look to look in the time h_i, r the rate from the first look to the last,
   * the noise of looks taken off.
   */
  private Walk walk() {
    int last = looks.size() - 1;
    double totalH = hours(0, last);
    double all = 0;
    double noise = 0;
    for (int i = 0; i < last; i++) {
      double h = hours(i, i + 1);
      if (h > 0) {
        Estimate off = step(i, i + 1).minus(step(0, last).times(h / totalH));
        double u = off.standardUncertainty();
        all += off.value() * off.value() / h;
        noise += u * u / h;
      }
    }
    double free = last - 1.0;
    double walked = Math.max(0, all - noise);
    boolean none = walked == 0 || free == 0;
    return none ? new Walk(0, 1) : new Walk(walked / free, free * Math.pow(walked / all, 2));
  }

  private double hours(int a, int b) {
    return (looks.get(b).timeS() - looks.get(a).timeS()) / HOUR_S;
  }

  private Estimate step(int a, int b) {
    return looks.get(b).ratio().minus(looks.get(a).ratio());
  }

  private double share(int a, int b, double timeS) {
    double span = looks.get(b).timeS() - looks.get(a).timeS();
    return span > 0 ? (timeS - looks.get(a).timeS()) / span : 0.5;
  }

  private Estimate chord(int a, int b, double timeS) {
    double w = share(a, b, timeS);
    List<Estimate> ends = List.of(looks.get(a).ratio(), looks.get(b).ratio());
    return Estimate.combine(0, new double[] {1 - w, w}, ends);
  }

  /** (t - a)(b - t)/(b - a), h. */
  private double bridgeH(int a, int b, double timeS) {
    double w = share(a, b, timeS);
    return w * (1 - w) * hours(a, b);
  }

  /** The look before a time, or -1; the last one counts as before everything later. */
  private int before(double timeS) {
    int at = -1;
    while (at + 1 < looks.size() && looks.get(at + 1).timeS() <= timeS) {
      at++;
    }
    return at;
  }

  /**
   * By how much the meter's gain is off its mean over the looks; before the first and after the
   * last look it is that of the nearest (methods.md 2.7).
   *
   * @param timeS from the start of the run, s
   * @return a ratio with its errors
   */
  public Estimate at(double timeS) {
    int a = before(timeS);
    int last = looks.size() - 1;
    if (a < 0 || a >= last) {
      Look end = looks.get(Math.max(0, a));
      double beyondS = Math.abs(timeS - end.timeS());
      double totalS = looks.get(last).timeS() - looks.get(0).timeS();
      return wandering(
          end.ratio().minus(mean),
          a,
          Math.sqrt(beyondS / HOUR_S),
          totalS > 0 ? Math.sqrt(beyondS / totalS) : 1);
    }
    double w = share(a, a + 1, timeS);
    return wandering(
        chord(a, a + 1, timeS).minus(mean),
        a,
        Math.sqrt(bridgeH(a, a + 1, timeS)),
        Math.sqrt(w * (1 - w)));
  }

  private Estimate wandering(Estimate known, int interval, double rootHours, double ofSpan) {
    String where = "%s after look %s".formatted(instance, interval + 1);
    if (looks.size() == 2) {
      double moved = Math.abs(looks.get(1).ratio().value() - looks.get(0).ratio().value());
      return known.with(
          ErrorSource.within(WANDER, ErrorSource.TEMPERATURE_STEP, where, moved, "1"), ofSpan);
    }
    return known.with(
        new ErrorSource(
            WANDER,
            ErrorSource.TEMPERATURE_STEP,
            where,
            ErrorDistribution.NORMAL,
            OptionalDouble.of(walk.degreesOfFreedom()),
            Math.sqrt(walk.variancePerHour()),
            "1/h^0.5"),
        rootHours);
  }

  /**
   * A reading with the drift taken off (methods.md 2.7).
   *
   * @param readingA of the range in which the standard was looked at, A
   * @param timeS when it was taken, from the start of the run, s
   * @return A
   */
  public Estimate corrected(Estimate readingA, double timeS) {
    return readingA.minus(readingA.times(at(timeS)));
  }

  /**
   * A reading in another range of the same meter, which may drift alike, or the other way round, or
   * not at all: nothing is taken off, and what was seen here counts as one standard uncertainty
   * (methods.md 2.7).
   *
   * @param readingA of another range, A
   * @param timeS when it was taken, from the start of the run, s
   * @param range meter and range of the reading
   * @return A
   */
  public Estimate widened(Estimate readingA, double timeS, String range) {
    ErrorSource other = elsewhere(range);
    return readingA.with(other, readingA.value() * at(timeS).value());
  }

  private static ErrorSource elsewhere(String range) {
    return ErrorSource.normal(ELSEWHERE, ErrorSource.INSTRUMENT_AND_RANGE, range, 1, "1");
  }

  /**
   * The drift over a record in another range of the same meter, which is not known but for its
   * likely size (methods.md 2.7).
   *
   * @param fromS when the record begins, from the start of the run, s
   * @param toS when it ends, s, later
   * @param range meter and range of the record
   * @return a ratio per hour, 0 with its error
   */
  public Estimate perHourElsewhere(double fromS, double toS, String range) {
    return Estimate.exact(0).with(elsewhere(range), perHour(fromS, toS).value());
  }

  /**
   * The meter's own drift over a record (methods.md 2.7, 6.3).
   *
   * @param fromS when the record begins, from the start of the run, s
   * @param toS when it ends, s, later
   * @return a ratio per hour
   */
  public Estimate perHour(double fromS, double toS) {
    return at(toS).minus(at(fromS)).times(HOUR_S / (toS - fromS));
  }

  /**
   * The mean ratio of reading to standard, less 1, by which the meter is off as a whole.
   *
   * @return a ratio with its errors
   */
  public Estimate mean() {
    return mean;
  }

  /**
   * How far the meter moved between any two looks.
   *
   * @return the span of the ratios, 0 or more
   */
  public double span() {
    double[] ratios = looks.stream().mapToDouble(l -> l.ratio().value()).sorted().toArray();
    return ratios[ratios.length - 1] - Arrays.stream(ratios).min().orElse(0);
  }

  /**
   * How many looks there were.
   *
   * @return 2 or more
   */
  public int looks() {
    return looks.size();
  }
}
