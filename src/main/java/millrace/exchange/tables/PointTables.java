// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.tables;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.stream.IntStream;
import millrace.assessment.MeasuredPoint;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.SweepDirection;
import millrace.logbook.ReadingCursor;
import millrace.quantity.TimeSpanSeconds;
import tech.tablesaw.api.Table;
import tech.tablesaw.joining.JoinType;

/** The points of a run and their readings. */
final class PointTables {
  /** The readings of a piece. */
  private static final int PIECE = 20_000;

  private static final double NANOS_A_SECOND = 1e9;

  private PointTables() {}

  /** A point and its place in the order of measuring. */
  private record Taken(long nth, Point point) {}

  private static <V> Function<Taken, V> at(Function<PointConditions, V> of) {
    return taken -> of.apply(taken.point().conditions());
  }

  /** The settings, joined with the results. */
  static void points(StoredRun run, Consumer<Table> taker) {
    Columns<Taken> set =
        new Columns<Taken>()
            .whole("run", t -> run.number())
            .word("point", t -> t.point().number().text())
            .word("unit", t -> run.unit())
            .word("origin", t -> run.origin())
            .whole("nth", Taken::nth)
            .word("key", t -> t.point().key())
            .word("kind", t -> t.point().kind().text())
            .word("state", t -> t.point().state().text())
            .word("reason", t -> t.point().reason())
            .text("range", at(PointConditions::range))
            .maybe("nominal_A", at(PointConditions::nominalA))
            .maybe("set_A", at(PointConditions::setA))
            .maybe("set_temperature_degC", at(PointConditions::temperatureDegC))
            .maybe("load_ohm", at(PointConditions::loadOhm))
            .maybe("supply_V", at(PointConditions::supplyV))
            .text("direction", at(c -> c.direction().map(SweepDirection::text)))
            .text("slot", at(PointConditions::slot))
            .number("started_s", t -> TimeSpanSeconds.seconds(t.point().started()))
            .number("ended_s", t -> TimeSpanSeconds.seconds(t.point().ended()));
    Columns<MeasuredPoint> measured =
        new Columns<MeasuredPoint>()
            .whole("run", p -> run.number())
            .word("point", p -> p.point().number().text())
            .number("current_A", MeasuredPoint::currentA)
            .number("u_current_A", MeasuredPoint::uPointA)
            .number("u_common_A", MeasuredPoint::uCommonA)
            .number("terminal_voltage_V", MeasuredPoint::voltageV)
            .number("u_voltage_V", MeasuredPoint::uVoltageV)
            .maybe("temperature_degC", MeasuredPoint::temperatureDegC)
            .maybe("u_temperature_K", PointTables::uTemperatureK);
    List<Point> points = run.reader().points();
    List<Taken> taken =
        IntStream.range(0, points.size()).mapToObj(i -> new Taken(i + 1, points.get(i))).toList();
    // Joined rows come before those without a partner.
    taker.accept(
        set.table(taken)
            .joinOn("run", "point")
            .type(JoinType.LEFT_OUTER)
            .with(measured.table(run.measured()))
            .join()
            .sortAscendingOn("nth"));
  }

  private static OptionalDouble uTemperatureK(MeasuredPoint p) {
    return p.temperatureDegC().isPresent()
        ? OptionalDouble.of(p.uTemperatureK())
        : OptionalDouble.empty();
  }

  /** A reading, copied from its cursor. */
  private record Row(
      String point,
      String signal,
      String instrument,
      String state,
      OptionalDouble value,
      OptionalDouble zero,
      String raw,
      OptionalDouble elapsedS) {
    static Row of(ReadingCursor cursor, String point) {
      return new Row(
          point,
          cursor.signal().text(),
          cursor.instrument(),
          cursor.state().text(),
          cursor.hasValue() ? OptionalDouble.of(cursor.value()) : OptionalDouble.empty(),
          cursor.zero(),
          cursor.raw(),
          cursor.hasElapsed()
              ? OptionalDouble.of(cursor.elapsedNanos() / NANOS_A_SECOND)
              : OptionalDouble.empty());
    }
  }

  /** In pieces, since a run can have millions. */
  static void readings(StoredRun run, Consumer<Table> taker) {
    Columns<Row> columns =
        new Columns<Row>()
            .whole("run", r -> run.number())
            .word("point", Row::point)
            .word("unit", r -> run.unit())
            .word("origin", r -> run.origin())
            .word("signal", Row::signal)
            .word("instrument", Row::instrument)
            .maybe("elapsed_s", Row::elapsedS)
            .word("state", Row::state)
            .maybe("value", Row::value)
            .maybe("zero", Row::zero)
            .word("raw", Row::raw);
    Map<Long, String> numbers = new HashMap<>();
    run.reader().points().forEach(p -> numbers.put(p.id(), p.number().text()));
    List<Row> piece = new ArrayList<>();
    try (ReadingCursor cursor = run.reader().readings()) {
      while (cursor.next()) {
        piece.add(Row.of(cursor, numbers.getOrDefault(cursor.point(), "")));
        if (piece.size() == PIECE) {
          taker.accept(columns.table(piece));
          piece.clear();
        }
      }
    }
    taker.accept(columns.table(piece));
  }
}
