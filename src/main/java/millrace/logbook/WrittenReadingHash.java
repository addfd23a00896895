// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.charset.StandardCharsets;
import java.util.Optional;
import java.util.function.LongSupplier;
import org.jspecify.annotations.Nullable;

/**
 * The digest of the readings of an import, computed while they are written: the same as {@link
 * RunDigest.Part#READING} of the rows. It says nothing where it could differ: if the run had points
 * before, readings came in another order than that of their numbers, or a text has a character that
 * a database could end it at.
 */
final class WrittenReadingHash {
  private static final byte[] TABLE =
      RunDigest.Part.READING.table().getBytes(StandardCharsets.US_ASCII);

  private final String instrument;
  private final WrittenRowsHash<Row> rows;
  private long point;
  private long number;

  /** A reading with its place and what the logbook makes of it. */
  private record Row(
      long point, long number, ImportedReading reading, int state, @Nullable String extra) {}

  /**
   * Begins before the first reading of a run.
   *
   * @param instrument what imported readings come from
   * @param had whether the run has points already
   */
  WrittenReadingHash(SqlSession session, String instrument, boolean had) {
    this.instrument = instrument;
    this.rows = new WrittenRowsHash<>(session, this::hash);
    if (had) {
      rows.unsure();
    }
  }

  /** From now on it says nothing. */
  void unsure() {
    rows.unsure();
  }

  /**
   * Adds a reading as it is written.
   *
   * @param ofPoint the number of its point
   * @param nth its number in the point
   * @param reading the reading
   * @param state the code of its state
   * @param extra what else stood in the row; null for nothing
   */
  void add(long ofPoint, long nth, ImportedReading reading, int state, @Nullable String extra) {
    boolean next = ofPoint == point ? nth == number + 1 : ofPoint > point && nth == 1;
    if (!next
        || !WrittenRowsHash.isPlain(reading.raw())
        || (extra != null && !WrittenRowsHash.isPlain(extra))) {
      unsure();
    }
    point = ofPoint;
    number = nth;
    rows.add(new Row(ofPoint, nth, reading, state, extra));
  }

  private void hash(RowHash hash, Row row) {
    ImportedReading reading = row.reading();
    hash.begin(TABLE);
    hash.whole(row.point());
    hash.whole(row.number());
    hash.text(reading.signal().text());
    hash.text(instrument);
    hash.whole(row.state());
    hash.number(reading.value());
    hash.nothing();
    hash.text(reading.raw());
    time(hash, reading.takenAt().isPresent(), () -> TimestampNanos.nanos(reading.takenAt().get()));
    time(hash, reading.elapsed().isPresent(), () -> reading.elapsed().get().toNanos());
    StatedUncertainty stated = reading.stated();
    hash.number(stated.u());
    hash.number(stated.common());
    hash.number(stated.commonRelative());
    hash.text(stated.shared() ? Optional.of(stated.group().orElse("")) : Optional.empty());
    hash.text(stated.meterRange());
    hash.text(Optional.ofNullable(row.extra()));
    hash.end();
  }

  private static void time(RowHash hash, boolean known, LongSupplier nanos) {
    if (known) {
      hash.whole(nanos.getAsLong());
    } else {
      hash.nothing();
    }
  }

  /** The digest of the readings; empty where it is to be computed of the rows. */
  Optional<String> hex() {
    return rows.hex();
  }
}
