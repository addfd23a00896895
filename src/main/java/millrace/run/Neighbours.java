package millrace.run;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.evidence.Signal;

/**
 * Finds readings that lie off their neighbours by more than six standard deviations. The standard
 * deviation is pooled over the points read in the same way; before enough of them were read only
 * what is far beyond the point's own median deviation is found. Single-threaded.
 */
final class Neighbours {
  private static final double SIGMAS = 6;

  /** Of the median absolute deviation, before the pool can be trusted. */
  private static final double MEDIANS = 30;

  private static final int LEAST_READINGS = 5;

  /** Of fewer readings three lie close together by chance now and then; only gross ones count. */
  private static final int ENOUGH = 8;

  private static final double GROSS = 3e-4;
  private static final int LEAST_POOL = 20;

  /** Where more than one in so many is off, the point is unsteady and no reading is singled out. */
  private static final int FEW = 4;

  private final Map<String, Pool> pools = new HashMap<>();

  /** Sum of squares and degrees of freedom of steady readings. */
  private static final class Pool {
    private double squares;
    private int freedom;

    double deviation() {
      return Math.sqrt(squares / freedom);
    }
  }

  /**
   * The places of the readings of a signal that lie off the others.
   *
   * @param readings of one point
   * @param signal which of them
   * @param way what readings must share to scatter alike
   * @return indices into the list; empty if all agree or too few are there to tell
   */
  List<Integer> off(List<Reading> readings, Signal signal, String way) {
    List<Integer> places = places(readings, signal);
    double[] values = values(readings, places);
    if (values.length < LEAST_READINGS) {
      return List.of();
    }
    double middle = median(values);
    double bound = bound(values, middle, pool(signal, way));
    List<Integer> off = new ArrayList<>();
    for (int k = 0; k < values.length; k++) {
      if (Math.abs(values[k] - middle) > bound) {
        off.add(places.get(k));
      }
    }
    return off.size() * FEW > values.length ? List.of() : off;
  }

  /** Takes the readings of a point into what is known of their scatter. */
  void learn(List<Reading> readings, Signal signal, String way) {
    double[] values = values(readings, places(readings, signal));
    double mean = Arrays.stream(values).average().orElse(0);
    Pool pool = pool(signal, way);
    for (double v : values) {
      pool.squares += (v - mean) * (v - mean);
    }
    pool.freedom += Math.max(0, values.length - 1);
  }

  private Pool pool(Signal signal, String way) {
    return pools.computeIfAbsent(signal.text() + " " + way, k -> new Pool());
  }

  private static List<Integer> places(List<Reading> readings, Signal signal) {
    List<Integer> places = new ArrayList<>();
    for (int i = 0; i < readings.size(); i++) {
      Reading r = readings.get(i);
      if (r.signal() == signal && r.state() == ReadingState.NUMBER) {
        places.add(i);
      }
    }
    return places;
  }

  private static double[] values(List<Reading> readings, List<Integer> places) {
    return places.stream().mapToDouble(i -> readings.get(i).value().orElseThrow()).toArray();
  }

  private static double bound(double[] values, double middle, Pool pool) {
    double[] away = Arrays.stream(values).map(v -> Math.abs(v - middle)).toArray();
    if (pool.freedom >= LEAST_POOL) {
      return pool.squares > 0 ? SIGMAS * pool.deviation() : Double.POSITIVE_INFINITY;
    }
    double own = MEDIANS * Math.max(median(away), step(values));
    double least = values.length < ENOUGH ? GROSS * Math.abs(middle) : 0;
    double bound = Math.max(own, least);
    return bound > 0 ? bound : Double.POSITIVE_INFINITY;
  }

  /**
   * The smallest difference of two values that differ: near 0 V a meter's last digit is all that
   * moves, most readings are equal, and their median deviation tells nothing.
   */
  private static double step(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    double least = Double.POSITIVE_INFINITY;
    for (int i = 1; i < sorted.length; i++) {
      double apart = sorted[i] - sorted[i - 1];
      least = apart > 0 ? Math.min(least, apart) : least;
    }
    return Double.isInfinite(least) ? 0 : least;
  }

  private static double median(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    int n = sorted.length;
    return (sorted[(n - 1) / 2] + sorted[n / 2]) / 2;
  }
}
