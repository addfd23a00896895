// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import millrace.bench.Interlocks;
import millrace.bench.role.ReplyTimes;
import millrace.evidence.IncidentKind;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Reading;
import millrace.logbook.InstrumentEntry;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.quantity.TimeSpanSeconds;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.run.control.InterlockLook;

/**
 * Interlocks with the distance to their bound, as far as the logbook has the quantity; and the
 * instruments with their last reply.
 */
final class WatchedPiece {
  private static final String ROUND_TRIP =
      "Round trip: from a question to its whole reply, the last one and the longest since the run"
          + " began or went on. The integration of a reading is part of it.";

  private final RunSnapshot look;
  private final HtmlTable table;

  private WatchedPiece(RunSnapshot look, HtmlTable table) {
    this.look = look;
    this.table = table;
  }

  static void interlocks(Markup out, RunSnapshot look) {
    if (look.plan().isEmpty()) {
      return;
    }
    Interlocks locks = look.plan().get().bench().interlocks();
    if (locks.equals(Interlocks.NONE)) {
      out.element("h2", "Interlocks");
      out.element("p", "The bench file names none.");
      return;
    }
    out.element("h2", "Interlocks");
    HtmlTable table =
        HtmlTable.stacked(
            out,
            "",
            HtmlTable.Column.words("What"),
            HtmlTable.Column.figures(look.writer().goesOn() ? "Last seen" : "Last in the logbook"),
            HtmlTable.Column.words("Bound"),
            HtmlTable.Column.figures("Distance"));
    new WatchedPiece(look, table).rows(locks);
    table.close();
    out.element(
        "p",
        (look.writer().goesOn()
                ? "The run looks at them every %s, between its readings as well; the logbook keeps"
                    + " what it sees only when a bound is broken. Millrace is not a safety"
                    + " device."
                : "While it went on the run looked at them every %s, between its readings as well;"
                    + " what it saw is kept only when a bound was broken. Millrace is not a"
                    + " safety device.")
            .formatted(QuantityText.print(locks.pollS(), Dimension.TIME)));
  }

  private void rows(Interlocks locks) {
    locks
        .chamber()
        .degC()
        .ifPresent(
            b ->
                within(
                    "chamber temperature",
                    MeasuredSignal.CHAMBER_TEMPERATURE,
                    b,
                    Dimension.TEMPERATURE));
    locks
        .unit()
        .degC()
        .ifPresent(
            b ->
                within(
                    "unit temperature", MeasuredSignal.UNIT_TEMPERATURE, b, Dimension.TEMPERATURE));
    locks
        .humidity()
        .ifPresent(b -> within("room humidity", MeasuredSignal.HUMIDITY, b, Dimension.HUMIDITY));
    locks
        .terminalV()
        .ifPresent(
            most -> most("terminal voltage", MeasuredSignal.VOLTAGE, most, Dimension.VOLTAGE));
    locks
        .supplyA()
        .ifPresent(
            most -> most("supply current", MeasuredSignal.SUPPLY_CURRENT, most, Dimension.CURRENT));
    rates(locks);
    others(locks);
  }

  /** The quantities that the logbook does not record. */
  private void others(Interlocks locks) {
    if (locks.chamberAlarm()) {
      row("chamber alarm", state("chamber alarm"), "none", Optional.empty());
    }
    locks
        .dewMarginK()
        .ifPresent(
            k ->
                row(
                    "dew point, door open",
                    state("dew point")
                        .or(
                            () ->
                                seen("dew point")
                                    .map(x -> print(x, Dimension.TEMPERATURE_DIFFERENCE, 3))
                                    .map(x -> x + " above it")),
                    "at least "
                        + QuantityText.print(k, Dimension.TEMPERATURE_DIFFERENCE)
                        + " above it",
                    seen("dew point").map(x -> print(x - k, Dimension.TEMPERATURE_DIFFERENCE, 3))));
    locks
        .hours()
        .ifPresent(
            h ->
                row(
                    "time of the day",
                    Optional.of(look.local(look.clock().now())),
                    h.toString(),
                    Optional.empty()));
    locks
        .silenceS()
        .ifPresent(
            s ->
                row(
                    "time without a good reading",
                    silence().map(x -> print(x, Dimension.TIME, 2)),
                    "at most " + QuantityText.print(s, Dimension.TIME),
                    silence().map(x -> print(s - x, Dimension.TIME, 2))));
    locks
        .freeDiskBytes()
        .ifPresent(
            b ->
                row(
                    "free disk",
                    seen("free disk").map(x -> print(x, Dimension.DATA, 3)),
                    "at least " + QuantityText.print(b, Dimension.DATA),
                    seen("free disk").map(x -> print(x - b, Dimension.DATA, 3))));
  }

  private void rates(Interlocks locks) {
    rate("rate of the chamber temperature", locks.chamber().mostKPerS());
    rate("rate of the unit temperature", locks.unit().mostKPerS());
  }

  private void rate(String what, Optional<Double> most) {
    most.ifPresent(
        r ->
            row(
                what,
                seen(what).map(x -> print(Math.abs(x), Dimension.TEMPERATURE_RATE, 2)),
                "at most " + QuantityText.print(r, Dimension.TEMPERATURE_RATE),
                seen(what).map(x -> print(r - Math.abs(x), Dimension.TEMPERATURE_RATE, 3))));
  }

  private static String print(double value, Dimension dimension, int digits) {
    return QuantityText.print(value, dimension, digits);
  }

  /** The number that the interlock of a run that goes on saw last. */
  private Optional<Double> seen(String what) {
    return look.writer().bench().look(what).stream()
        .flatMapToDouble(l -> l.value().stream())
        .boxed()
        .findFirst();
  }

  /** The same for what has no number. */
  private Optional<String> state(String what) {
    return look.writer().bench().look(what).map(InterlockLook::words).filter(w -> !w.isEmpty());
  }

  /** How long ago the last reading was taken, s; empty once the run ended. */
  private Optional<Double> silence() {
    return look.newest().stream()
        .filter(r -> look.writer().goesOn() && r.value().isPresent())
        .reduce((a, b) -> b)
        .map(r -> TimeSpanSeconds.seconds(look.clock().elapsed().minus(r.elapsed())));
  }

  private Optional<Double> last(String what, MeasuredSignal signal) {
    return seen(what).or(() -> last(signal));
  }

  private Optional<Double> last(MeasuredSignal signal) {
    return look.newest().stream()
        .filter(r -> r.signal() == signal && r.value().isPresent())
        .map(r -> r.value().getAsDouble())
        .reduce((a, b) -> b);
  }

  private void within(
      String what, MeasuredSignal signal, ClosedInterval band, Dimension dimension) {
    ToDoubleFunction<Double> distance = x -> Math.min(x - band.lower(), band.upper() - x);
    Dimension difference =
        dimension == Dimension.TEMPERATURE ? Dimension.TEMPERATURE_DIFFERENCE : dimension;
    Optional<Double> now = last(what, signal);
    row(
        what,
        now.map(x -> QuantityText.print(x, dimension, 4)),
        band.inWords(dimension),
        now.map(x -> QuantityText.print(distance.applyAsDouble(x), difference, 3)));
  }

  private void most(String what, MeasuredSignal signal, double most, Dimension dimension) {
    Optional<Double> now = last(what, signal).map(Math::abs);
    row(
        what,
        now.map(x -> QuantityText.print(x, dimension, 4)),
        "at most " + QuantityText.print(most, dimension),
        now.map(x -> QuantityText.print(most - x, dimension, 3)));
  }

  private void row(String what, Optional<String> now, String bound, Optional<String> distance) {
    table
        .begin()
        .cell(what)
        .figures(PrintedUnitSymbols.of(now.orElse("not kept")))
        .cell(PrintedUnitSymbols.of(bound))
        .figures(PrintedUnitSymbols.of(distance.orElse("")))
        .end();
  }

  static void instruments(Markup out, RunSnapshot look) {
    if (look.happened().instruments().isEmpty()) {
      return;
    }
    out.element("h2", "Instruments");
    boolean goesOn = look.writer().goesOn();
    List<HtmlTable.Column> columns =
        new ArrayList<>(
            List.of(
                HtmlTable.Column.words("Name"),
                HtmlTable.Column.words("Role"),
                HtmlTable.Column.words("Address"),
                HtmlTable.Column.words("Last reply"),
                HtmlTable.Column.figures(goesOn ? "Ago" : "At")));
    if (goesOn) {
      columns.add(HtmlTable.Column.figures("Round trip"));
      columns.add(HtmlTable.Column.figures("Longest"));
    }
    columns.add(HtmlTable.Column.figures("Asked again"));
    HtmlTable table = HtmlTable.stacked(out, "", columns.toArray(HtmlTable.Column[]::new));
    look.happened().instruments().forEach(i -> instrument(table, look, i));
    table.close();
    if (goesOn) {
      out.element("p", ROUND_TRIP);
    }
  }

  private static void instrument(HtmlTable table, RunSnapshot look, InstrumentEntry entry) {
    Optional<Reading> last =
        look.newest().stream().filter(r -> r.instrument().equals(entry.name())).reduce((a, b) -> b);
    table
        .begin()
        .cell(o -> o.element("a", entry.name(), "href", WatchLinks.instrument(entry)))
        .cell(entry.roles().replace(",", ", "))
        .cell(entry.address())
        .cell(o -> last.ifPresent(r -> o.element("code", r.raw().strip())))
        .figures(
            look.writer().goesOn()
                ? last.map(r -> ago(look, r)).orElse("not lately")
                : last.map(r -> look.local(r.takenAt())).orElse("earlier"));
    if (look.writer().goesOn()) {
      table
          .figures(trip(look, entry, ReplyTimes::last))
          .figures(trip(look, entry, ReplyTimes::longest));
    }
    table.figures(Long.toString(retries(look, entry))).end();
  }

  private static String trip(
      RunSnapshot look, InstrumentEntry entry, Function<ReplyTimes, Duration> which) {
    return look.writer()
        .bench()
        .repliesOf(entry.name())
        .map(which)
        .map(span -> TimeSpanSeconds.print(span, 2))
        .orElse("none");
  }

  private static String ago(RunSnapshot look, Reading r) {
    return TimeSpanSeconds.inWords(look.clock().elapsed().minus(r.elapsed()));
  }

  private static long retries(RunSnapshot look, InstrumentEntry entry) {
    List<IncidentKind> kinds =
        List.of(IncidentKind.RETRY, IncidentKind.TIME_OUT, IncidentKind.LINK);
    String name = "'" + entry.name().toLowerCase(Locale.ROOT) + "'";
    return look.happened().incidents().stream()
        .filter(i -> kinds.contains(i.kind()))
        .filter(i -> i.text().toLowerCase(Locale.ROOT).contains(name))
        .count();
  }
}
