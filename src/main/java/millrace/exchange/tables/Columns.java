// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.tables;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import tech.tablesaw.api.ColumnType;
import tech.tablesaw.api.Table;
import tech.tablesaw.columns.Column;

/**
 * The columns of a table, each with its name, its type and its value for a row.
 *
 * @param <T> the type of a row's data
 */
final class Columns<T> {
  private final List<Field<T>> fields = new ArrayList<>();

  /** One column. */
  private record Field<T>(String name, ColumnType type, Function<T, @Nullable Object> of) {}

  private Columns<T> with(String name, ColumnType type, Function<T, @Nullable Object> of) {
    fields.add(new Field<>(name, type, of));
    return this;
  }

  /** Whole numbers, never missing. */
  Columns<T> whole(String name, Function<T, Long> of) {
    return with(name, ColumnType.LONG, of::apply);
  }

  /** Numbers that are never missing. */
  Columns<T> number(String name, Function<T, Double> of) {
    return with(name, ColumnType.DOUBLE, of::apply);
  }

  /** Numbers, some of them missing. */
  Columns<T> maybe(String name, Function<T, OptionalDouble> of) {
    return with(
        name,
        ColumnType.DOUBLE,
        row -> {
          OptionalDouble value = of.apply(row);
          return value.isPresent() ? (Double) value.getAsDouble() : null;
        });
  }

  /** Texts that are never missing. */
  Columns<T> word(String name, Function<T, String> of) {
    return with(name, ColumnType.STRING, of::apply);
  }

  /** Texts, days and times, some of them missing. */
  Columns<T> text(String name, Function<T, Optional<?>> of) {
    return with(name, ColumnType.STRING, row -> of.apply(row).map(Object::toString).orElse(null));
  }

  /** A table of rows. */
  Table table(List<T> rows) {
    List<Column<?>> columns = new ArrayList<>();
    for (Field<T> field : fields) {
      Column<?> column = field.type().create(field.name());
      rows.forEach(row -> column.appendObj(field.of().apply(row)));
      columns.add(column);
    }
    return Table.create(columns);
  }
}
