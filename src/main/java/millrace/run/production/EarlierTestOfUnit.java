// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.time.Instant;
import java.util.Optional;

/**
 * An earlier test of a unit.
 *
 * @param run its local number
 * @param at the time of its beginning
 * @param attempt its number among the tests of the unit
 * @param outcome its outcome
 * @param kind the kind of unit, as named by its datasheet; empty if not noted
 */
record EarlierTestOfUnit(
    long run, Instant at, int attempt, BoardOutcome outcome, Optional<String> kind) {}
