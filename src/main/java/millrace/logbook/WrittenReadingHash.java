// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.function.LongSupplier;
import millrace.time.BackgroundThreads;
import org.jspecify.annotations.Nullable;

/**
 * The digest of the readings of an import, computed while they are written: the same as {@link
 * RunDigest.Part#READING} of the rows, without reading them all back. It says nothing where it
 * could differ: if the run had points before, readings came in another order than that of their
 * numbers, a text has a character that a database could end it at, or anything was rolled back. One
 * thread calls it; readings are hashed in another, piece after piece, while more are written.
 */
final class WrittenReadingHash {
  private static final byte[] TABLE =
      RunDigest.Part.READING.table().getBytes(StandardCharsets.US_ASCII);

  /** Readings that are hashed at a time: at most twice as many are in memory. */
  private static final int PIECE = 2000;

  private final SqlSession session;
  private final String instrument;
  private final long rolledBack;
  private final RowHash hash = new RowHash();
  private List<Row> waiting = new ArrayList<>(PIECE);
  private CompletableFuture<Void> hashing = CompletableFuture.completedFuture(null);
  private boolean sure;
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
    this.session = session;
    this.instrument = instrument;
    this.rolledBack = session.rollBacks();
    this.sure = !had;
  }

  /** From now on it says nothing. */
  void unsure() {
    sure = false;
    waiting.clear();
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
      unsure();
      return;
    }
    point = ofPoint;
    number = nth;
    waiting.add(new Row(ofPoint, nth, reading, state, extra));
    if (waiting.size() == PIECE) {
      handOver();
    }
  }

  private void handOver() {
    hashed();
    List<Row> piece = waiting;
    waiting = new ArrayList<>(PIECE);
    hashing = CompletableFuture.runAsync(() -> piece.forEach(this::hash));
  }

  /** Waits for the piece that is being hashed. */
  private void hashed() {
    try {
      hashing.join();
    } catch (CompletionException e) {
      throw BackgroundThreads.thrown(e);
    }
  }

  private void hash(Row row) {
    ImportedReading reading = row.reading();
    hash.begin(TABLE);
    hash.whole(row.point());
    hash.whole(row.number());
    hash.text(reading.signal().text());
    hash.text(instrument);
    hash.whole(row.state());
    number(reading.value());
    hash.nothing();
    hash.text(reading.raw());
    time(reading.takenAt().isPresent(), () -> TimestampNanos.nanos(reading.takenAt().get()));
    time(reading.elapsed().isPresent(), () -> reading.elapsed().get().toNanos());
    stated(reading.stated());
    text(row.extra());
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
    if (!sure || session.rollBacks() != rolledBack) {
      return Optional.empty();
    }
    handOver();
    hashed();
    return Optional.of(hash.hex());
  }
}
