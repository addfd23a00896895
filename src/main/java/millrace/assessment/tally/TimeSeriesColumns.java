// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.tally;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.Map;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;

/** The readings of one point over time, as columns of numbers. Single-threaded while it grows. */
public final class TimeSeriesColumns {
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
    private double[] timeS = new double[2];
    private double[] value = new double[2];
    private int n;

    void add(double t, double x) {
      if (n == timeS.length) {
        timeS = Arrays.copyOf(timeS, 2 * n);
        value = Arrays.copyOf(value, 2 * n);
      }
      timeS[n] = t;
      value[n++] = x;
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

  int size(MeasuredSignal signal) {
    return columns.getOrDefault(signal, NONE).n;
  }

  /** Whether the current was read often enough, and not all at one time. */
  boolean isRecord(int least) {
    Column column = columns.getOrDefault(MeasuredSignal.CURRENT, NONE);
    return column.n >= least && column.timeS[column.n - 1] != column.timeS[0];
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
