// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.PointNumber;
import millrace.evidence.PointState;
import millrace.evidence.ReadingState;
import millrace.evidence.setting.PointSettings;
import millrace.logbook.ImportedPoint;
import millrace.logbook.ImportedReading;
import millrace.logbook.RunState;
import millrace.logbook.RunWriter;
import millrace.logbook.StatedUncertainty;
import millrace.quantity.NumberText;
import org.jspecify.annotations.Nullable;

/** Writes the rows of one unit as points of one run. Single-threaded; close it. */
final class ImportedUnitWriter implements AutoCloseable {
  /** The number of readings from which they are written: at most twice as many are in memory. */
  private static final int WAITING = 2_000;

  /** The number of different temperatures beyond which visits to one are no longer counted. */
  private static final int TEMPERATURES = 100_000;

  private final RunWriter writer;
  private final String unit;
  private final ImportUnitFirstPass survey;
  private final Instant now;
  private final List<ImportedReading> waiting = new ArrayList<>();
  private final List<ImportedPoint> whole = new ArrayList<>();
  private int inWhole;
  private final Map<Double, Integer> visits = new HashMap<>();
  private final LineNumberSummary repeated = new LineNumberSummary();
  private final LineNumberSummary notNumbers = new LineNumberSummary();
  private RunWriter.@Nullable OpenPoint open;
  private @Nullable ImportRow first;
  private @Nullable ImportRow last;
  private LineNumberSummary doubtful = new LineNumberSummary();
  private int point = -1;
  private long flagged;
  private long written;

  ImportedUnitWriter(RunWriter writer, String unit, ImportUnitFirstPass survey, Instant now) {
    this.writer = writer;
    this.unit = unit;
    this.survey = survey;
    this.now = now;
  }

  /** Takes a row; returns the number of readings that this wrote. */
  long add(ImportRow row, boolean isRepeated) {
    long before = written;
    ImportRow previous = last;
    boolean begins = first == null || previous == null || !row.continues(previous);
    if (begins) {
      endPoint();
      begin(row);
    }
    if (isRepeated) {
      repeated.add(row.line());
    }
    if (!row.isNumber()) {
      doubtful.add(row.line());
      notNumbers.add(row.line());
    }
    addReadings(row, begins);
    last = row;
    if (waiting.size() >= WAITING && first != null) {
      flush(first);
    }
    return written - before;
  }

  private void begin(ImportRow row) {
    ImportRow previous = last;
    row.temperature()
        .value()
        .ifPresent(
            t -> {
              boolean stays =
                  previous != null
                      && previous.temperature().value().equals(row.temperature().value());
              if (!stays && (visits.size() < TEMPERATURES || visits.containsKey(t))) {
                visits.merge(t, 1, Integer::sum);
              }
            });
    first = row;
    point++;
    doubtful = new LineNumberSummary();
  }

  private void addReadings(ImportRow row, boolean begins) {
    ImportRow.Entry current = row.current();
    waiting.add(reading(row, MeasuredSignal.CURRENT, current, row.stated(), row.extra()));
    if (begins || survey.voltageMoves(point)) {
      addBeside(row, MeasuredSignal.VOLTAGE, row.voltage());
    }
    if (begins || survey.temperatureMoves(point)) {
      addBeside(row, MeasuredSignal.UNIT_TEMPERATURE, row.temperature());
    }
  }

  private void addBeside(ImportRow row, MeasuredSignal signal, ImportRow.Measured measured) {
    OptionalDouble value = measured.value();
    if (value.isPresent()) {
      ImportRow.Entry entry =
          new ImportRow.Entry(ReadingState.NUMBER, value, NumberText.print(value.getAsDouble()));
      OptionalDouble u = measured.u();
      StatedUncertainty stated =
          u.isPresent() ? StatedUncertainty.of(u.getAsDouble()) : StatedUncertainty.NOTHING;
      waiting.add(reading(row, signal, entry, stated, Map.of()));
    }
  }

  private ImportedReading reading(
      ImportRow row,
      MeasuredSignal signal,
      ImportRow.Entry entry,
      StatedUncertainty stated,
      Map<String, String> extra) {
    return new ImportedReading(
        signal,
        entry.state(),
        entry.value(),
        entry.raw(),
        row.time().stamp().map(OffsetDateTime::toInstant),
        survey.elapsed(row),
        stated,
        extra);
  }

  private void flush(ImportRow begun) {
    writeWhole();
    RunWriter.OpenPoint present = open;
    if (present == null) {
      present = writer.open(pointOf(begun, begun, PointState.OPEN));
      open = present;
    }
    present.appendImported(waiting);
    written += waiting.size();
    waiting.clear();
  }

  private void endPoint() {
    ImportRow from = first;
    ImportRow to = last;
    if (from == null || to == null) {
      return;
    }
    boolean good = doubtful.count() == 0;
    flagged += good ? 0 : 1;
    Point end = pointOf(from, to, good ? PointState.COMPLETE : PointState.FLAGGED);
    RunWriter.OpenPoint begun = open;
    if (begun == null) {
      whole.add(new ImportedPoint(end, waiting));
      inWhole += waiting.size();
      waiting.clear();
      if (inWhole >= WAITING) {
        writeWhole();
      }
    } else {
      flush(from);
      begun.close(end);
      open = null;
    }
  }

  private void writeWhole() {
    if (!whole.isEmpty()) {
      writer.commitImported(whole);
      written += inWhole;
      inWhole = 0;
      whole.clear();
    }
  }

  private Point pointOf(ImportRow from, ImportRow to, PointState state) {
    return new Point(
        0,
        PointNumber.of(point + 1),
        from.label().orElse(String.valueOf(point + 1)),
        survey.isSeries(from.settings().range()) ? PointKind.TIME_SERIES : PointKind.MEASURE,
        conditions(from),
        state,
        state == PointState.FLAGGED ? "current_A is no number in " + doubtful : "",
        survey.elapsed(from).orElse(Duration.ZERO),
        survey.elapsed(to).orElse(Duration.ZERO),
        PointSettings.NONE);
  }

  private PointConditions conditions(ImportRow row) {
    ImportRow.Settings set = row.settings();
    OptionalDouble temperature = row.temperature().value();
    int visit = temperature.isPresent() ? visits.getOrDefault(temperature.getAsDouble(), 1) - 1 : 0;
    return new PointConditions(
        Optional.of(set.range()),
        OptionalDouble.of(set.nominalA()),
        temperature,
        set.loadOhm(),
        row.voltage().value(),
        set.supplyV(),
        set.setA(),
        set.direction(),
        set.slot(),
        visit);
  }

  /** Ends the run. */
  ImportedRun end(List<String> notes) {
    endPoint();
    writeWhole();
    List<String> all = new ArrayList<>(notes);
    notes.forEach(note -> note(IncidentKind.CAUTION, note));
    note(all, IncidentKind.NOTE, repeated, "%s: equal to another row in every column; kept");
    note(all, IncidentKind.CLOCK, survey.backwards(), "%s: earlier than the row before; kept");
    note(all, IncidentKind.FLAG, notNumbers, "%s: current_A is no number; the point is flagged");
    writer.end(RunState.COMPLETE, "", now);
    return new ImportedRun(
        writer.run(), writer.uuid(), unit, survey.rows(), point + 1L, flagged, all);
  }

  private void note(List<String> all, IncidentKind kind, LineNumberSummary lines, String pattern) {
    if (lines.count() > 0) {
      String text = pattern.formatted(lines);
      all.add(text);
      note(kind, text);
    }
  }

  private void note(IncidentKind kind, String text) {
    writer.incident(new Incident(kind, Optional.empty(), text, now, Duration.ZERO));
  }

  /** Marks the committed part of the run as incomplete. */
  void fail() {
    writer.end(RunState.FAILED, "the import did not finish", now);
  }

  @Override
  public void close() {
    writer.close();
  }
}
