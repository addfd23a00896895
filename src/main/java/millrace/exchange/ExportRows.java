// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import millrace.assessment.MeasuredPoint;
import millrace.assessment.MeasuredPoints;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.ReadingState;
import millrace.evidence.RunOrigin;
import millrace.logbook.ReadingCursor;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.quantity.NumberText;
import org.jspecify.annotations.Nullable;

/** The rows of the export of a run, one after another; they can be read repeatedly. */
interface ExportRows {
  /** Passes on each row, in the order of measuring. */
  void each(Consumer<ExportRow> taker);

  /** The rows of a run: its readings if it was imported, else its points. */
  static ExportRows of(RunReader reader) {
    return reader.summary().start().origin() == RunOrigin.IMPORTED
        ? new Readings(reader)
        : new Points(reader);
  }

  /** The first columns of every row of a run. */
  private static ExportRow begun(RunStart start, Point point, String label) {
    return new ExportRow()
        .put(ImportColumn.UNIT, start.unit())
        .put(ImportColumn.BATCH, start.people().batch())
        .put(ImportColumn.TAG, start.people().tag())
        .put(ImportColumn.OPERATOR, start.people().operator())
        .put(ImportColumn.BENCH, start.facts().bench())
        .conditions(point.conditions())
        .put(ImportColumn.POINT, label);
  }

  /** Imported readings unchanged, one per row. Single-threaded. */
  final class Readings implements ExportRows {
    private final RunReader reader;
    private final RunStart start;
    private final Map<Long, Point> points = new HashMap<>();

    Readings(RunReader reader) {
      this.reader = reader;
      this.start = reader.summary().start();
      reader.points().forEach(p -> points.put(p.id(), p));
    }

    @Override
    public void each(Consumer<ExportRow> taker) {
      Labels labels = new Labels();
      Beside beside = new Beside();
      ExportRow row = null;
      long at = 0;
      try (ReadingCursor cursor = reader.readings()) {
        while (cursor.next()) {
          if (cursor.signal() == MeasuredSignal.CURRENT) {
            hand(row, beside, taker);
            if (cursor.point() != at) {
              at = cursor.point();
              beside = new Beside();
            }
            row = row(cursor, labels);
          } else {
            beside.take(cursor);
          }
        }
      }
      hand(row, beside, taker);
    }

    private static void hand(@Nullable ExportRow row, Beside beside, Consumer<ExportRow> taker) {
      if (row != null) {
        beside.into(row);
        taker.accept(row);
      }
    }

    private ExportRow row(ReadingCursor cursor, Labels labels) {
      Point point = points.get(cursor.point());
      if (point == null) {
        throw new IllegalStateException("a reading without its point");
      }
      ExportRow row =
          begun(start, point, labels.of(point))
              .put(ImportColumn.CURRENT, current(cursor))
              .put(ImportColumn.U_CURRENT, cursor.u())
              .put(ImportColumn.U_COMMON, cursor.uCommon())
              .put(ImportColumn.U_COMMON_RELATIVE, cursor.uCommonRelative())
              .put(ImportColumn.COMMON_GROUP, cursor.commonGroup())
              .put(ImportColumn.METER_RANGE, cursor.meterRange())
              .others(cursor.extra());
      row.kept(ImportColumn.U_DISTRIBUTION).kept(ImportColumn.U_DEGREES_OF_FREEDOM);
      if (cursor.hasElapsed()) {
        row.time(cursor.elapsedNanos());
      }
      if (cursor.hasTakenAt()) {
        row.stamp(cursor.takenAtNanos(), start.offset());
      }
      return row;
    }

    private static String current(ReadingCursor cursor) {
      if (cursor.hasValue()) {
        return NumberText.print(cursor.value());
      }
      return cursor.state() == ReadingState.OVERLOAD ? "inf" : "NaN";
    }
  }

  /** Voltage and temperature, which hold for the readings of a point until the next values. */
  final class Beside {
    private OptionalDouble voltageV = OptionalDouble.empty();
    private OptionalDouble uVoltageV = OptionalDouble.empty();
    private OptionalDouble degC = OptionalDouble.empty();
    private OptionalDouble uDegC = OptionalDouble.empty();

    void take(ReadingCursor cursor) {
      if (cursor.signal() == MeasuredSignal.VOLTAGE) {
        voltageV = OptionalDouble.of(cursor.value());
        uVoltageV = cursor.u();
      } else if (cursor.signal() == MeasuredSignal.UNIT_TEMPERATURE) {
        degC = OptionalDouble.of(cursor.value());
        uDegC = cursor.u();
      }
    }

    void into(ExportRow row) {
      row.put(ImportColumn.VOLTAGE, voltageV)
          .put(ImportColumn.U_VOLTAGE, uVoltageV)
          .put(ImportColumn.TEMPERATURE, degC)
          .put(ImportColumn.U_TEMPERATURE, uDegC);
    }
  }

  /** Names of points in a file; two consecutive names are never equal. */
  final class Labels {
    private long last;
    private String label = "";

    String of(Point point) {
      if (point.id() != last) {
        last = point.id();
        label = point.key().equals(label) ? point.key() + " again" : point.key();
      }
      return label;
    }
  }

  /** Points of a bench, reduced to currents at voltages with their uncertainty, one per row. */
  final class Points implements ExportRows {
    private final RunStart start;
    private final List<MeasuredPoint> measured;
    private final boolean anyFlagged;

    Points(RunReader reader) {
      this.start = reader.summary().start();
      this.measured = MeasuredPoints.of(reader);
      this.anyFlagged = measured.stream().anyMatch(m -> m.point().state() == PointState.FLAGGED);
    }

    @Override
    public void each(Consumer<ExportRow> taker) {
      Labels labels = new Labels();
      for (MeasuredPoint each : measured) {
        ExportRow row =
            begun(start, each.point(), labels.of(each.point()))
                .put(ImportColumn.TIME, each.timeS())
                .put(ImportColumn.CURRENT, each.currentA())
                .put(ImportColumn.U_CURRENT, each.uPointA())
                .put(ImportColumn.U_COMMON, each.uCommonA())
                .put(ImportColumn.COMMON_GROUP, each.point().conditions().range())
                .put(ImportColumn.VOLTAGE, each.voltageV())
                .put(ImportColumn.U_VOLTAGE, each.uVoltageV());
        if (each.temperatureDegC().isPresent()) {
          row.put(ImportColumn.TEMPERATURE, each.temperatureDegC())
              .put(ImportColumn.U_TEMPERATURE, each.uTemperatureK());
        }
        row.other("point_number", each.point().number().text());
        if (anyFlagged) {
          row.other("flagged", each.point().reason());
        }
        taker.accept(row);
      }
    }
  }

  /** Points that are readings over time; an export of points cannot hold them. */
  static long series(RunReader reader) {
    return reader.summary().start().origin() == RunOrigin.IMPORTED
        ? 0
        : reader.points().stream().filter(p -> p.kind() == PointKind.TIME_SERIES).count();
  }
}
