// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.time.Duration;
import java.time.OffsetDateTime;
import java.util.BitSet;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import millrace.document.FileMessageText;
import millrace.document.csv.CsvFile;
import millrace.quantity.NumberText;
import org.jspecify.annotations.Nullable;

/**
 * The facts about one unit from a pass over the whole file: the points formed by its rows, its
 * beginning, and the points whose temperature or voltage changes. Single-threaded while it grows.
 */
final class ImportUnitFirstPass {
  /** The number of timed readings from which the only point of a range is a series over time. */
  static final int SERIES = 10;

  private final Map<String, RangeSeen> ranges = new HashMap<>();
  private final BitSet temperatureMoves = new BitSet();
  private final BitSet voltageMoves = new BitSet();
  private final LineNumberSummary backwards = new LineNumberSummary();
  private long rows;
  private int points;
  private Optional<OffsetDateTime> start = Optional.empty();
  private Optional<Duration> latest = Optional.empty();
  private ImportRow.Belongs belongs = ImportRow.Belongs.NOWHERE;
  private long firstLine;
  private @Nullable ImportRow first;
  private @Nullable ImportRow last;

  /** The facts about a range. */
  private static final class RangeSeen {
    private final double nominalA;
    private final long line;
    private long points;
    private long readings;

    RangeSeen(double nominalA, long line) {
      this.nominalA = nominalA;
      this.line = line;
    }
  }

  /** Adds a row; notes contradictions with earlier rows. */
  void add(ImportRow row, CsvFile csv, ImportHeader header) {
    rows++;
    checkBelongs(row, csv, header);
    RangeSeen range =
        ranges.computeIfAbsent(
            row.settings().range(), name -> new RangeSeen(row.settings().nominalA(), row.line()));
    checkNominal(row, range, csv, header);
    ImportRow before = last;
    if (before != null && first != null && row.continues(before)) {
      checkSettings(row, first, csv, header);
      temperatureMoves.set(
          points - 1, moved(points - 1, temperatureMoves, first.temperature(), row.temperature()));
      voltageMoves.set(points - 1, moved(points - 1, voltageMoves, first.voltage(), row.voltage()));
    } else {
      first = row;
      points++;
      range.points++;
    }
    range.readings++;
    addTime(row);
    last = row;
  }

  private void checkBelongs(ImportRow row, CsvFile csv, ImportHeader header) {
    if (rows == 1) {
      belongs = row.belongs();
      firstLine = row.line();
      return;
    }
    same(ImportColumn.BATCH, row.belongs().batch(), belongs.batch(), csv, header);
    same(ImportColumn.TAG, row.belongs().tag(), belongs.tag(), csv, header);
    same(ImportColumn.OPERATOR, row.belongs().operator(), belongs.operator(), csv, header);
    same(ImportColumn.BENCH, row.belongs().bench(), belongs.bench(), csv, header);
  }

  private void same(
      ImportColumn column,
      Optional<String> now,
      Optional<String> first,
      CsvFile csv,
      ImportHeader header) {
    if (now.isPresent() && first.isPresent() && !now.equals(first)) {
      csv.fault(
          header.index(column),
          "%s is %s here and %s in line %s"
              .formatted(
                  column.header(),
                  FileMessageText.quoted(now.get()),
                  FileMessageText.quoted(first.get()),
                  firstLine),
          "one " + column.header() + " a unit, since a unit becomes one run",
          "Correct it, or import them from files of their own.");
    }
  }

  /** The common facts of its readings. */
  ImportRow.Belongs belongs() {
    return belongs;
  }

  private static boolean moved(
      int point, BitSet already, ImportRow.Measured first, ImportRow.Measured now) {
    return already.get(point) || !now.equals(first);
  }

  private static void checkNominal(
      ImportRow row, RangeSeen range, CsvFile csv, ImportHeader header) {
    if (row.settings().nominalA() != range.nominalA) {
      csv.fault(
          header.index(ImportColumn.NOMINAL),
          "range %s has a nominal current of %s A here and of %s A in line %s"
              .formatted(
                  FileMessageText.quoted(row.settings().range()),
                  NumberText.print(row.settings().nominalA()),
                  NumberText.print(range.nominalA),
                  range.line),
          "one nominal current a range",
          "Correct it, or give the ranges different names.");
    }
  }

  private static void checkSettings(
      ImportRow row, ImportRow first, CsvFile csv, ImportHeader header) {
    if (!row.settings().equals(first.settings())) {
      csv.fault(
          header.index(ImportColumn.POINT),
          "point %s has other settings here than in line %s"
              .formatted(FileMessageText.quoted(row.label().orElse("")), first.line()),
          "one range, load, supply, set current, direction and slot a point",
          "Give these rows a point of their own.");
    }
  }

  private void addTime(ImportRow row) {
    if (start.isEmpty()) {
      start = row.time().stamp();
    }
    Optional<Duration> elapsed = elapsed(row);
    if (elapsed.isPresent()) {
      if (latest.isPresent() && elapsed.get().compareTo(latest.get()) < 0) {
        backwards.add(row.line());
      }
      latest = elapsed;
    }
  }

  /** Time from the start of the unit's readings; empty if the file has no times. */
  Optional<Duration> elapsed(ImportRow row) {
    if (row.time().fromStart().isPresent()) {
      return row.time().fromStart();
    }
    return start.flatMap(s -> row.time().stamp().map(stamp -> Duration.between(s, stamp)));
  }

  /** Wall clock of its first row; empty if the file has none. */
  Optional<OffsetDateTime> start() {
    return start;
  }

  long rows() {
    return rows;
  }

  /** The ranges with their nominal currents, A. */
  Map<String, Double> nominals() {
    Map<String, Double> nominals = new TreeMap<>();
    ranges.forEach((name, seen) -> nominals.put(name, seen.nominalA));
    return nominals;
  }

  /** Rows with a time before that of the previous row. */
  LineNumberSummary backwards() {
    return backwards;
  }

  /** Tells whether the temperature changes within a point, numbered from 0. */
  boolean temperatureMoves(int point) {
    return temperatureMoves.get(point);
  }

  /** Tells whether the voltage changes within a point, numbered from 0. */
  boolean voltageMoves(int point) {
    return voltageMoves.get(point);
  }

  /** Tells whether all readings of a range form one series over time. */
  boolean isSeries(String range) {
    RangeSeen seen = ranges.get(range);
    return seen != null && seen.points == 1 && seen.readings >= SERIES && latest.isPresent();
  }
}
