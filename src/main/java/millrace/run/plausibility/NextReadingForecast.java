// SPDX-License-Identifier: Apache-2.0
package millrace.run.plausibility;

import java.util.ArrayDeque;
import java.util.Collection;
import java.util.Deque;
import millrace.analysis.reduction.SampleMedian;

/**
 * Predicts the next of successive readings: it should lie within six standard deviations of the
 * median of the last few. The standard deviation is estimated from the median deviation of earlier
 * readings, which an outlier or a step does not change. Single-threaded.
 */
final class NextReadingForecast {
  private static final double SIGMAS = 6;

  /** Factor on the deviation while it rests on few values. */
  private static final double OWN = 30;

  /** Deviation relative to the median, while there is no estimate. */
  private static final double GROSS = 3e-4;

  /** Standard deviation over median deviation of normal values (ISO 16269-4:2010, A.3). */
  private static final double NORMAL = 1.4826;

  private static final int LAST = 5;
  private static final int FEW = 5;
  private static final int KNOWN = 20;
  private static final int REMEMBERED = 60;

  private final double step;
  private final Deque<Double> last = new ArrayDeque<>();
  private final Deque<Double> aways = new ArrayDeque<>();

  /**
   * A forecast without values.
   *
   * @param step the least difference that can mean anything, in the unit of the values; 0 if it is
   *     not known
   */
  NextReadingForecast(double step) {
    this.step = step;
  }

  /** Whether nothing was taken yet. */
  boolean isEmpty() {
    return last.isEmpty();
  }

  /** Whether a value is as near to the last ones as it should be; no if there are none. */
  boolean expects(double x) {
    return !last.isEmpty() && Math.abs(x - median(last)) <= bound(x);
  }

  /** Whether two values may be of the same quantity. */
  boolean agree(double x, double y) {
    return Math.abs(x - y) <= bound(x);
  }

  /** Adds a value; one that deviates begins a new level, with the same scatter. */
  void take(double x) {
    if (expects(x)) {
      keep(aways, Math.abs(x - median(last)), REMEMBERED);
    } else {
      last.clear();
    }
    keep(last, x, LAST);
  }

  private static void keep(Deque<Double> values, double x, int most) {
    values.addLast(x);
    if (values.size() > most) {
      values.removeFirst();
    }
  }

  private double bound(double x) {
    double gross = GROSS * Math.abs(last.isEmpty() ? x : median(last));
    double own = aways.size() < FEW ? 0 : NORMAL * median(aways);
    double bound;
    if (aways.size() >= KNOWN) {
      bound = SIGMAS * Math.max(own, step);
    } else {
      bound = Math.max(OWN * step, own > 0 ? Math.min(gross, OWN * own) : gross);
    }
    return bound > 0 ? bound : unscattered(gross);
  }

  /** Used if all values were equal and the resolution is not known. */
  private static double unscattered(double gross) {
    return gross > 0 ? gross : Double.POSITIVE_INFINITY;
  }

  private static double median(Collection<Double> values) {
    return SampleMedian.of(values.stream().mapToDouble(v -> v).toArray());
  }
}
