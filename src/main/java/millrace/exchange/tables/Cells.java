// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.tables;

import java.util.List;
import millrace.quantity.NumberText;
import tech.tablesaw.api.Table;
import tech.tablesaw.columns.Column;

/** The cells of a table in the form of a file. */
final class Cells {
  private Cells() {}

  /** One row; a missing cell is empty. */
  static List<String> of(Table table, int row) {
    return table.columns().stream().map(column -> of(column, row)).toList();
  }

  /** Numbers have the usual form. */
  private static String of(Column<?> column, int row) {
    if (column.isMissing(row)) {
      return "";
    }
    Object value = column.get(row);
    return value instanceof Double number ? NumberText.print(number) : value.toString();
  }
}
