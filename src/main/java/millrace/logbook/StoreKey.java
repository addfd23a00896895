// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;

/**
 * What leads the keys of a run's points, readings and results in a store.
 *
 * @param month of its start, as SQL writes a day
 * @param uuid of the run
 */
record StoreKey(String month, String uuid) {
  static StoreKey of(SqlSession store, long run) throws SQLException {
    return store
        .one(
            "SELECT CAST(month AS TEXT), uuid FROM run WHERE id = ?",
            slots -> slots.whole(run),
            row -> new StoreKey(row.text(), row.text()))
        .orElseThrow();
  }

  List<StoreCopy.Column> columns() {
    return List.of(new StoreCopy.Column("month", month), new StoreCopy.Column("run_uuid", uuid));
  }

  /** These and one more. */
  List<StoreCopy.Column> and(String name, long value) {
    List<StoreCopy.Column> all = new ArrayList<>(columns());
    all.add(new StoreCopy.Column(name, value));
    return all;
  }
}
