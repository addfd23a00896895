// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.function.Supplier;
import millrace.document.csv.CsvFile;
import millrace.fault.BadInputException;
import millrace.time.BackgroundThreads;

/**
 * The rows of a file in pieces: one is read by another thread while the one before is written.
 * Close it before the file.
 */
final class RowsAhead implements AutoCloseable {
  /** Rows in one piece: two of them are in memory. */
  private static final int PIECE = 2_000;

  private final CsvFile csv;
  private final RowReader reader;
  private final ImportFirstPass survey;
  private final Supplier<BadInputException> changed;
  private CompletableFuture<List<Row>> next;

  /**
   * A row.
   *
   * @param row what it says
   * @param repeated whether another row is equal in every column
   */
  record Row(ImportRow row, boolean repeated) {}

  /**
   * Begins to read.
   *
   * @param csv the file, behind its header
   * @param reader of its rows
   * @param survey of the first pass, which found no fault in it
   * @param changed what is thrown at a fault
   */
  RowsAhead(
      CsvFile csv, RowReader reader, ImportFirstPass survey, Supplier<BadInputException> changed) {
    this.csv = csv;
    this.reader = reader;
    this.survey = survey;
    this.changed = changed;
    this.next = CompletableFuture.supplyAsync(this::piece, BackgroundThreads.aside());
  }

  /**
   * The next piece.
   *
   * @return in the order of the file; empty at its end
   * @throws BadInputException if the file is no longer that of the first pass
   */
  List<Row> next() {
    List<Row> piece = BackgroundThreads.joined(next);
    if (!piece.isEmpty()) {
      next = CompletableFuture.supplyAsync(this::piece, BackgroundThreads.aside());
    }
    return piece;
  }

  private List<Row> piece() {
    List<Row> piece = new ArrayList<>(PIECE);
    while (piece.size() < PIECE && csv.next()) {
      ImportRow row = reader.read().orElseThrow(changed);
      piece.add(new Row(row, survey.isRepeated(csv)));
    }
    return piece;
  }

  /** Waits until the other thread has done with the file. */
  @Override
  public void close() {
    next.handle((piece, error) -> true).join();
  }
}
