// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.time.Instant;
import java.util.Optional;

/**
 * An earlier test of a unit.
 *
 * @param run its local number
 * @param at when it began
 * @param attempt which test of the unit it was
 * @param outcome what it came to
 * @param kind the kind of unit, as its datasheet called it; empty if not noted
 */
record EarlierTestOfUnit(
    long run, Instant at, int attempt, BoardOutcome outcome, Optional<String> kind) {}
