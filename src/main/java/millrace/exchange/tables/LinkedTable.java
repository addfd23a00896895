// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.tables;

import java.util.List;
import java.util.function.Consumer;
import tech.tablesaw.api.Table;

/**
 * A table of a folder.
 *
 * @param name of its file, without the ending
 * @param title the meaning of a row, in words
 * @param key the columns that identify its rows; empty without such columns
 * @param links the columns that link its rows to rows of other tables
 * @param source the source of its rows
 */
record LinkedTable(String name, String title, List<String> key, List<Link> links, Source source) {

  /** Columns of the same names in both tables. */
  record Link(String table, List<String> columns) {}

  /** Returns the rows of one run, in pieces with the same columns; at least one piece. */
  interface Source {
    void of(StoredRun run, Consumer<Table> taker);
  }

  /** All tables, those that others link to first. */
  static List<LinkedTable> all() {
    Link run = new Link("runs", List.of("run"));
    Link point = new Link("points", List.of("run", "point"));
    Link result = new Link("results", List.of("run", "result"));
    return List.of(
        new LinkedTable("runs", "A run of a unit", List.of("run"), List.of(), RunTables::run),
        new LinkedTable(
            "instruments",
            "An instrument as a run found it",
            List.of(),
            List.of(run),
            RunTables::instruments),
        new LinkedTable(
            "incidents",
            "What happened during a run",
            List.of(),
            List.of(run),
            RunTables::incidents),
        new LinkedTable(
            "points",
            "A point: what was set, and the current at the terminal voltage that it came to",
            List.of("run", "point"),
            List.of(run),
            PointTables::points),
        new LinkedTable(
            "readings", "A reading as it came", List.of(), List.of(point), PointTables::readings),
        new LinkedTable(
            "results",
            "A result with its uncertainty, and how it is judged",
            List.of("run", "result"),
            List.of(run),
            ResultTables::results),
        new LinkedTable(
            "components",
            "A component of the uncertainty of a result",
            List.of(),
            List.of(result),
            ResultTables::components));
  }
}
