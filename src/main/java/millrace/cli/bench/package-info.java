// SPDX-License-Identifier: Apache-2.0
/**
 * Commands that speak to a bench outside a run. Read {@link millrace.cli.bench.BenchCommand} first.
 */
@NullMarked
package millrace.cli.bench;

import org.jspecify.annotations.NullMarked;
