// SPDX-License-Identifier: Apache-2.0
package millrace.document.csv;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import de.siegmar.fastcsv.reader.FieldMismatchStrategy;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import millrace.time.BackgroundThreads;
import org.jspecify.annotations.Nullable;

/**
 * The rows of a CSV file in pieces: those of a long file are cut out of it in a thread of their own
 * while the piece before is looked at. Single-threaded for its user; close it before the reader.
 */
final class CsvRows implements AutoCloseable {
  /** Rows of a piece: of a shorter file nothing is read ahead. */
  private static final int ROWS = 2_000;

  /** Characters of a piece: two of them are in memory. */
  private static final int CHARACTERS = 1 << 19;

  private final Iterator<CsvRecord> records;
  private Piece piece;
  private int at;
  private @Nullable CompletableFuture<Piece> next;

  /**
   * A row.
   *
   * @param line the line that it begins in, from 1
   * @param fields as written, quotation marks taken off
   */
  record Row(long line, List<String> fields) {}

  /**
   * Some rows.
   *
   * @param rows in the order of the file
   * @param last whether none comes behind them
   * @param trouble why none comes
   */
  private record Piece(List<Row> rows, boolean last, Optional<RuntimeException> trouble) {}

  CsvRows(Reader reader) {
    this.records =
        CsvReader.builder()
            .extraFieldStrategy(FieldMismatchStrategy.IGNORE)
            .missingFieldStrategy(FieldMismatchStrategy.IGNORE)
            .ofCsvRecord(reader)
            .iterator();
    this.piece = cut(1);
  }

  /**
   * The next row; empty at the end of the file.
   *
   * @throws CsvParseException if it is no CSV
   * @throws UncheckedIOException if it cannot be read
   */
  Optional<Row> next() {
    while (at == piece.rows().size()) {
      if (piece.trouble().isPresent()) {
        throw piece.trouble().get();
      }
      if (piece.last()) {
        return Optional.empty();
      }
      piece = following();
      at = 0;
    }
    return Optional.of(piece.rows().get(at++));
  }

  private Piece following() {
    Piece following = next == null ? cut(ROWS) : BackgroundThreads.joined(next);
    if (!following.last()) {
      next = CompletableFuture.supplyAsync(() -> cut(ROWS), BackgroundThreads.aside());
    }
    return following;
  }

  private Piece cut(int most) {
    List<Row> rows = new ArrayList<>(most);
    int characters = 0;
    try {
      while (rows.size() < most && characters < CHARACTERS) {
        if (!records.hasNext()) {
          return new Piece(rows, true, Optional.empty());
        }
        CsvRecord record = records.next();
        List<String> fields = record.getFields();
        for (String field : fields) {
          characters += field.length();
        }
        rows.add(new Row(record.getStartingLineNumber(), fields));
      }
      return new Piece(rows, false, Optional.empty());
    } catch (CsvParseException | UncheckedIOException e) {
      return new Piece(rows, true, Optional.of(e));
    }
  }

  /** Waits until the other thread has done with the file. */
  @Override
  public void close() {
    if (next != null) {
      next.handle((rows, error) -> true).join();
    }
  }
}
