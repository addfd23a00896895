// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.tally;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.Map;
import millrace.analysis.series.TimeSeries;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;

/** The readings of one point over time, as columns of numbers. Single-threaded while it grows. */
public final class TimeSeriesColumns {
  /** Least length of a column. */
  private static final int LEAST = 2;

  /** Beyond this length a column grows by a quarter: twice as long would fill the memory. */
  private static final int MUCH = 1 << 16;

  private static final Column NONE = new Column();

  private final Point point;
  private final Map<MeasuredSignal, Column> columns = new EnumMap<>(MeasuredSignal.class);

  /**
   * Columns without any reading.
   *
   * @param point whose readings they will hold
   */
  public TimeSeriesColumns(Point point) {
    this.point = point;
  }

  /** Times and values of one signal. */
  private static final class Column {
    private double[] timeS = new double[LEAST];
    private double[] value = new double[LEAST];
    private int n;

    void add(double t, double x) {
      if (n == timeS.length) {
        int more = Math.max(LEAST, n < MUCH ? 2 * n : n + n / 4);
        timeS = Arrays.copyOf(timeS, more);
        value = Arrays.copyOf(value, more);
      }
      timeS[n] = t;
      value[n++] = x;
    }

    void trim() {
      if (n < timeS.length) {
        timeS = Arrays.copyOf(timeS, n);
        value = Arrays.copyOf(value, n);
      }
    }
  }

  void add(MeasuredSignal signal, double timeS, double value) {
    columns.computeIfAbsent(signal, s -> new Column()).add(timeS, value);
  }

  /** The point. */
  public Point point() {
    return point;
  }

  /** Whether a signal was read at all. */
  public boolean has(MeasuredSignal signal) {
    return columns.containsKey(signal);
  }

  /** How often a signal was read. */
  public int size(MeasuredSignal signal) {
    return columns.getOrDefault(signal, NONE).n;
  }

  /** The currents as a record, which shares memory with this. */
  public TimeSeries record() {
    Column column = columns.get(MeasuredSignal.CURRENT);
    if (column == null) {
      return TimeSeries.of(new double[0], new double[0]);
    }
    column.trim();
    return TimeSeries.of(column.timeS, column.value);
  }

  /** When a reading was taken, from the start of the run, s. */
  public double timeS(MeasuredSignal signal, int i) {
    return columns.getOrDefault(signal, NONE).timeS[i];
  }

  /** A reading in the base unit of the signal, less its zero. */
  public double value(MeasuredSignal signal, int i) {
    return columns.getOrDefault(signal, NONE).value[i];
  }

  /** Times from the start of the run, s. */
  public double[] timeS(MeasuredSignal signal) {
    Column column = columns.getOrDefault(signal, NONE);
    return Arrays.copyOf(column.timeS, column.n);
  }

  /** Values in the base unit of the signal, less their zero. */
  public double[] values(MeasuredSignal signal) {
    Column column = columns.getOrDefault(signal, NONE);
    return Arrays.copyOf(column.value, column.n);
  }
}
