// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.charset.StandardCharsets;
import java.util.Optional;
import java.util.stream.Stream;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.SweepDirection;

/**
 * The digest of the points of an import, computed while they are written: the same as {@link
 * RunDigest.Part#POINT} of the rows. It says nothing of a run with points that were not written
 * whole.
 */
final class WrittenPointHash {
  private static final byte[] TABLE =
      RunDigest.Part.POINT.table().getBytes(StandardCharsets.US_ASCII);

  private final WrittenRowsHash<Point> rows;
  private long number;

  /**
   * Begins before the first point of a run.
   *
   * @param had whether the run has points already
   */
  WrittenPointHash(SqlSession session, boolean had) {
    this.rows = new WrittenRowsHash<>(session, WrittenPointHash::hash);
    if (had) {
      rows.unsure();
    }
  }

  /** From now on it says nothing. */
  void unsure() {
    rows.unsure();
  }

  /** Adds a point as it is written whole. */
  void add(Point point) {
    if (point.id() != ++number || !texts(point).allMatch(WrittenRowsHash::isPlain)) {
      unsure();
    }
    rows.add(point);
  }

  private static Stream<String> texts(Point point) {
    PointConditions at = point.conditions();
    return Stream.of(Optional.of(point.key()), at.range(), at.slot(), Optional.of(point.reason()))
        .flatMap(Optional::stream);
  }

  private static void hash(RowHash hash, Point point) {
    PointConditions at = point.conditions();
    hash.begin(TABLE);
    hash.whole(point.id());
    hash.whole(point.number().place());
    hash.whole(point.number().part());
    hash.text(point.key());
    hash.text(point.kind().text());
    hash.text(at.range());
    hash.number(at.nominalA());
    hash.number(at.temperatureDegC());
    hash.number(at.loadOhm());
    hash.number(at.terminalVoltageV());
    hash.number(at.supplyV());
    hash.number(at.setA());
    hash.text(at.direction().map(SweepDirection::text));
    hash.text(at.slot());
    hash.whole(at.visit());
    hash.text(point.state().text());
    hash.text(point.reason());
    hash.whole(point.started().toNanos());
    hash.whole(point.ended().toNanos());
    hash.text(PointSqlRows.words(point));
    hash.end();
  }

  /** The digest of the points; empty where it is to be computed of the rows. */
  Optional<String> hex() {
    return rows.hex();
  }
}
