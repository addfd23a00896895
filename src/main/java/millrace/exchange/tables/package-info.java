// SPDX-License-Identifier: Apache-2.0
/**
 * Runs as linked tables in a folder, for statistics software, and as columnar files, for engines
 * that read them by SQL. Read {@link millrace.exchange.tables.LinkedTables} first. Reads stored
 * results and judges runs that have none; knows nothing of pages and commands. It loads the library
 * of tables, which takes half a second. One thread.
 */
@NullMarked
package millrace.exchange.tables;

import org.jspecify.annotations.NullMarked;
