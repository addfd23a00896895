// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.charset.StandardCharsets;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.LongSupplier;
import org.jspecify.annotations.Nullable;

/**
 * The digest of the readings of an import, computed while they are written: the same as {@link
 * RunDigest.Part#READING} of the rows, without reading them all back. It says nothing where it
 * could differ: if the run had points before, readings came in another order than that of their
 * numbers, a text has a character that a database could end it at, or anything was rolled back.
 * Single-threaded.
 */
final class WrittenReadingHash {
  private static final byte[] TABLE =
      RunDigest.Part.READING.table().getBytes(StandardCharsets.US_ASCII);

  private final SqlSession session;
  private final String instrument;
  private final long rolledBack;
  private final RowHash hash = new RowHash();
  private boolean sure;
  private long point;
  private long number;

  /**
   * Begins before the first reading of a run.
   *
   * @param instrument what imported readings come from
   * @param had whether the run has points already
   */
  WrittenReadingHash(SqlSession session, String instrument, boolean had) {
    this.session = session;
    this.instrument = instrument;
    this.rolledBack = session.rollBacks();
    this.sure = !had;
  }

  /** From now on it says nothing. */
  void unsure() {
    sure = false;
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
    sure &= next && plain(reading.raw()) && (extra == null || plain(extra));
    if (!sure) {
      return;
    }
    point = ofPoint;
    number = nth;
    hash.begin(TABLE);
    hash.whole(ofPoint);
    hash.whole(nth);
    hash.text(reading.signal().text());
    hash.text(instrument);
    hash.whole(state);
    number(reading.value());
    hash.nothing();
    hash.text(reading.raw());
    time(reading.takenAt().isPresent(), () -> TimestampNanos.nanos(reading.takenAt().get()));
    time(reading.elapsed().isPresent(), () -> reading.elapsed().get().toNanos());
    stated(reading.stated());
    text(extra);
    hash.end();
  }

  private void stated(StatedUncertainty stated) {
    number(stated.u());
    number(stated.common());
    number(stated.commonRelative());
    text(stated.shared() ? stated.group().orElse("") : null);
    text(stated.meterRange().orElse(null));
  }

  private void number(OptionalDouble value) {
    if (value.isPresent()) {
      hash.number(value.getAsDouble());
    } else {
      hash.nothing();
    }
  }

  private void time(boolean known, LongSupplier nanos) {
    if (known) {
      hash.whole(nanos.getAsLong());
    } else {
      hash.nothing();
    }
  }

  private void text(@Nullable String text) {
    if (text == null) {
      hash.nothing();
    } else {
      hash.text(text);
    }
  }

  private static boolean plain(String text) {
    return text.indexOf('\0') < 0;
  }

  /** The digest of the readings; empty where it is to be computed of the rows. */
  Optional<String> hex() {
    return sure && session.rollBacks() == rolledBack ? Optional.of(hash.hex()) : Optional.empty();
  }
}
