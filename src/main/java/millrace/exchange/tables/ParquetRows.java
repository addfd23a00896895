// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.tables;

import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import org.apache.hadoop.conf.Configuration;
import org.apache.parquet.conf.ParquetConfiguration;
import org.apache.parquet.hadoop.api.WriteSupport;
import org.apache.parquet.io.api.Binary;
import org.apache.parquet.io.api.RecordConsumer;
import org.apache.parquet.schema.LogicalTypeAnnotation;
import org.apache.parquet.schema.MessageType;
import org.apache.parquet.schema.PrimitiveType.PrimitiveTypeName;
import org.apache.parquet.schema.Type;
import org.apache.parquet.schema.Types;
import org.jspecify.annotations.Nullable;
import tech.tablesaw.api.ColumnType;
import tech.tablesaw.api.Table;
import tech.tablesaw.columns.Column;

/**
 * Hands rows of tables to a Parquet file. Numbers keep every bit; what is missing is null; times
 * are instants in UTC, cut to microseconds, which every engine knows. Single-threaded.
 */
final class ParquetRows extends WriteSupport<ParquetRows.Row> {
  /** The columns that hold instants, in the form of ISO 8601. */
  private static final Set<String> INSTANTS = Set.of("run_started_at", "started_at", "ended_at");

  private final MessageType schema;
  private final Map<String, String> facts;
  private @Nullable RecordConsumer file;

  /** A row of a table whose columns are those of the file. */
  record Row(Table table, int number) {}

  /**
   * The rows of one file.
   *
   * @param name of the table
   * @param columns its columns, by name and type
   * @param facts what the file says of itself, by name
   */
  ParquetRows(String name, List<Column<?>> columns, Map<String, String> facts) {
    this.schema = new MessageType(name, columns.stream().<Type>map(ParquetRows::declared).toList());
    this.facts = facts;
  }

  private static Type declared(Column<?> column) {
    PrimitiveTypeName form =
        isInstant(column) || column.type() == ColumnType.LONG
            ? PrimitiveTypeName.INT64
            : column.type() == ColumnType.DOUBLE
                ? PrimitiveTypeName.DOUBLE
                : PrimitiveTypeName.BINARY;
    Types.PrimitiveBuilder<? extends Type> type = Types.optional(form);
    if (isInstant(column)) {
      type.as(LogicalTypeAnnotation.timestampType(true, LogicalTypeAnnotation.TimeUnit.MICROS));
    } else if (form == PrimitiveTypeName.BINARY) {
      type.as(LogicalTypeAnnotation.stringType());
    }
    return type.named(column.name());
  }

  private static boolean isInstant(Column<?> column) {
    return INSTANTS.contains(column.name());
  }

  @Override
  public String getName() {
    return "millrace";
  }

  @Override
  @SuppressWarnings("deprecation") // the library's parent class wants it
  public WriteContext init(Configuration unused) {
    return new WriteContext(schema, facts);
  }

  @Override
  public WriteContext init(ParquetConfiguration unused) {
    return new WriteContext(schema, facts);
  }

  @Override
  public void prepareForWrite(RecordConsumer consumer) {
    file = consumer;
  }

  @Override
  public void write(Row row) {
    RecordConsumer into = Objects.requireNonNull(file);
    into.startMessage();
    List<Column<?>> columns = row.table().columns();
    for (int i = 0; i < columns.size(); i++) {
      Column<?> column = columns.get(i);
      if (!column.isMissing(row.number())) {
        into.startField(column.name(), i);
        add(into, column, column.get(row.number()));
        into.endField(column.name(), i);
      }
    }
    into.endMessage();
  }

  private static void add(RecordConsumer into, Column<?> column, Object value) {
    if (isInstant(column)) {
      Instant at = Instant.parse(value.toString()).truncatedTo(ChronoUnit.MICROS);
      into.addLong(ChronoUnit.MICROS.between(Instant.EPOCH, at));
    } else if (value instanceof Long whole) {
      into.addLong(whole);
    } else if (value instanceof Double number) {
      into.addDouble(number);
    } else {
      into.addBinary(Binary.fromString(value.toString()));
    }
  }
}
