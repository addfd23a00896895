// SPDX-License-Identifier: Apache-2.0
/**
 * The production loop: who may be tested, retests, self-checks of the bench and what locks it. Read
 * {@link millrace.run.production.ProductionLoop} first. Knows the logbook and the datasheet; knows
 * neither a terminal nor a page: what a person sees and scans goes through a {@link
 * millrace.run.production.OperatorStation}, and a board is tested by whoever is handed in. One
 * thread.
 */
@NullMarked
package millrace.run.production;

import org.jspecify.annotations.NullMarked;
