// SPDX-License-Identifier: Apache-2.0
/**
 * The production loop: admission of boards, retests, self-checks of the bench and its lock. Read
 * {@link millrace.run.production.ProductionLoop} first. Knows the logbook and the datasheet; knows
 * neither a terminal nor a page: an {@link millrace.run.production.OperatorStation} shows screens
 * and takes scans, and a board test that is passed in tests a board. One thread.
 */
@NullMarked
package millrace.run.production;

import org.jspecify.annotations.NullMarked;
