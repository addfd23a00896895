// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.postgresql.PGConnection;
import org.postgresql.copy.CopyOut;

/**
 * The digest of a run's readings as a store holds them: the same as {@link RunDigest.Part#READING},
 * from one walk through the key of the readings alone, as bytes (PostgreSQL 15 documentation, COPY,
 * "Binary Format"). A reading whose channel or group is not one of the run enters with its number,
 * so that the digest does not fit. Single-threaded.
 */
final class StoreReadingHash {
  /** Fields of a reading in the order of the digest; where words stand there, their numbers. */
  private static final String QUESTION =
      "COPY (SELECT point_id, CAST(number AS BIGINT), channel_id, CAST(state AS BIGINT), value,"
          + " zero, raw, taken_at, elapsed, u, u_common, u_common_relative, common_group_id, extra"
          + " FROM reading WHERE month = CAST('%s' AS DATE) AND run_uuid = CAST('%s' AS UUID)"
          + " ORDER BY point_id, number) TO STDOUT (FORMAT binary)";

  /** Of each field: whole number, channel, number (double), text, group. */
  private static final String KINDS = "wwcwddtwwdddgt";

  private static final byte[] NAME = "reading".getBytes(StandardCharsets.US_ASCII);

  /** Signature, flags and the length of more, which no version has. */
  private static final int HEAD = 11 + 4 + 4;

  private static final byte[] ABSENT = {};
  private static final List<byte[]> NONE = List.of(ABSENT, ABSENT);

  private final SqlSession store;
  private final long run;
  private final RowHash hash = new RowHash();
  private final Map<Long, List<byte[]>> channels = new HashMap<>();
  private final Map<Long, List<byte[]>> groups = new HashMap<>();

  private StoreReadingHash(SqlSession store, long run) {
    this.store = store;
    this.run = run;
  }

  /** The digest; 64 hexadecimal digits. */
  static String of(SqlSession store, long run) throws SQLException {
    StoreReadingHash all = new StoreReadingHash(store, run);
    all.words("SELECT id, signal, instrument FROM channel WHERE run_id = ?", all.channels);
    all.words("SELECT id, name, meter_range FROM common_group WHERE run_id = ?", all.groups);
    return all.hashed();
  }

  private void words(String sql, Map<Long, List<byte[]>> into) throws SQLException {
    store.list(
        sql,
        slots -> slots.whole(run),
        row -> into.put(row.whole(), List.of(bytes(row.text()), bytes(row.maybeText()))));
  }

  private static byte[] bytes(String text) {
    return text.getBytes(StandardCharsets.UTF_8);
  }

  private static byte[] bytes(Optional<String> text) {
    return text.map(StoreReadingHash::bytes).orElse(ABSENT);
  }

  private String hashed() throws SQLException {
    StoreKey key = StoreKey.of(store, run);
    CopyOut rows =
        store
            .connection()
            .unwrap(PGConnection.class)
            .getCopyAPI()
            .copyOut(QUESTION.formatted(key.month(), key.uuid()));
    int skip = HEAD;
    for (byte[] piece = rows.readFromCopy(); piece != null; piece = rows.readFromCopy()) {
      ByteBuffer row = ByteBuffer.wrap(piece);
      row.position(skip);
      skip = 0;
      if (row.hasRemaining() && row.getShort() == KINDS.length()) {
        add(row);
      }
    }
    return hash.hex();
  }

  private void add(ByteBuffer row) {
    hash.begin(NAME);
    for (int i = 0; i < KINDS.length(); i++) {
      int length = row.getInt();
      switch (KINDS.charAt(i)) {
        case 'c' -> words(channels, length < 0 ? null : row.getLong());
        case 'g' -> words(groups, length < 0 ? null : row.getLong());
        default -> plain(KINDS.charAt(i), row, length);
      }
    }
    hash.end();
  }

  private void plain(char kind, ByteBuffer row, int length) {
    if (length < 0) {
      hash.nothing();
    } else if (kind == 'w') {
      hash.whole(row.getLong());
    } else if (kind == 'd') {
      hash.number(row.getDouble());
    } else {
      hash.text(text(row, length));
    }
  }

  /** Bytes of a text as it was before it was kept; most need no look at their characters. */
  private byte[] text(ByteBuffer row, int length) {
    byte[] kept = new byte[length];
    row.get(kept);
    for (byte each : kept) {
      if (each < 0) {
        return bytes(store.engine().read(new String(kept, StandardCharsets.UTF_8)));
      }
    }
    return kept;
  }

  private void words(Map<Long, List<byte[]>> known, @Nullable Long number) {
    List<byte[]> both = number == null ? NONE : known.get(number);
    for (int i = 0; i < 2; i++) {
      if (both == null) {
        hash.whole(Objects.requireNonNull(number)); // what no digest has there
      } else if (both.get(i) == ABSENT) {
        hash.nothing();
      } else {
        hash.text(both.get(i));
      }
    }
  }
}
