// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.tables;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import millrace.document.file.TemporaryFiles;
import org.apache.hadoop.conf.Configuration;
import org.apache.parquet.conf.ParquetConfiguration;
import org.apache.parquet.conf.PlainParquetConfiguration;
import org.apache.parquet.hadoop.ParquetFileWriter;
import org.apache.parquet.hadoop.ParquetWriter;
import org.apache.parquet.hadoop.api.WriteSupport;
import org.apache.parquet.hadoop.metadata.CompressionCodecName;
import org.apache.parquet.io.LocalOutputFile;
import org.apache.parquet.io.OutputFile;
import org.jspecify.annotations.Nullable;
import tech.tablesaw.api.StringColumn;
import tech.tablesaw.api.Table;
import tech.tablesaw.columns.Column;

/** One table of the runs of one month and origin. Single-threaded; close it. */
final class ParquetFile implements AutoCloseable {
  /** Rows of a group wait in memory until they are this many bytes. */
  private static final long GROUP_BYTES = 16L << 20;

  private final LinkedTable table;
  private final Path folder;
  private final Map<String, String> facts;
  private @Nullable ParquetWriter<ParquetRows.Row> writer;
  private long rows;

  /**
   * A file that begins with its first piece.
   *
   * @param table the table
   * @param folder the folder of this month and origin; made if there is none
   * @param facts what the file says of itself, by name
   */
  ParquetFile(LinkedTable table, Path folder, Map<String, String> facts) {
    this.table = table;
    this.folder = folder;
    this.facts = facts;
  }

  long rows() {
    return rows;
  }

  void add(StoredRun run) {
    table.source().of(run, piece -> add(piece, run));
  }

  private void add(Table piece, StoredRun run) {
    Table whole = known(piece, run);
    try {
      if (writer == null) {
        writer = begun(whole.columns());
      }
      for (int row = 0; row < whole.rowCount(); row++) {
        writer.write(new ParquetRows.Row(whole, row));
      }
      rows += whole.rowCount();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Numbers of runs hold in one logbook only: each row bears what is the same everywhere. */
  private static Table known(Table piece, StoredRun run) {
    int size = piece.rowCount();
    Table whole = piece.copy();
    whole.removeColumns("run");
    if (!whole.columnNames().contains("run_uuid")) {
      whole.insertColumn(0, same("run_uuid", run.summary().uuid(), size));
    }
    if (!whole.columnNames().contains("batch")) {
      String batch = run.summary().start().people().batch().orElse("");
      whole.insertColumn(1, same("batch", batch, size));
    }
    String began = run.summary().start().measuredAt().map(Object::toString).orElse("");
    if (!whole.columnNames().contains("started_at")) {
      whole.insertColumn(2, same("run_started_at", began, size));
    }
    return whole;
  }

  private static Column<?> same(String name, Object value, int size) {
    StringColumn column = StringColumn.create(name, size);
    for (int row = 0; row < size; row++) {
      column.set(row, value.toString());
    }
    return column;
  }

  private ParquetWriter<ParquetRows.Row> begun(List<Column<?>> columns) throws IOException {
    Files.createDirectories(folder);
    Path file = TemporaryFiles.create(folder.resolve("part-0.parquet"));
    return new Builder(new LocalOutputFile(file), new ParquetRows(table.name(), columns, facts))
        .withConf(new PlainParquetConfiguration())
        .withWriteMode(ParquetFileWriter.Mode.OVERWRITE)
        .withCodecFactory(new GzipPages())
        .withCompressionCodec(CompressionCodecName.GZIP)
        .withRowGroupSize(GROUP_BYTES)
        .build();
  }

  @Override
  public void close() throws IOException {
    if (writer != null) {
      writer.close();
    }
  }

  /** The library's builder for rows of ours. */
  private static final class Builder extends ParquetWriter.Builder<ParquetRows.Row, Builder> {
    private final ParquetRows support;

    Builder(OutputFile file, ParquetRows support) {
      super(file);
      this.support = support;
    }

    @Override
    protected Builder self() {
      return this;
    }

    @Override
    @SuppressWarnings("deprecation") // the library's parent class wants it
    protected WriteSupport<ParquetRows.Row> getWriteSupport(Configuration unused) {
      return support;
    }

    @Override
    protected WriteSupport<ParquetRows.Row> getWriteSupport(ParquetConfiguration unused) {
      return support;
    }
  }
}
