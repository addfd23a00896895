// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.Optional;
import millrace.logbook.FixtureSetUp;
import millrace.logbook.RunFacts;

/**
 * The unit that a run measures, and how it is connected.
 *
 * @param unit its serial number
 * @param slot its slot; empty for every slot of the bench
 * @param setUp its connection; empty if not noted
 * @param facts further facts for the logbook
 */
public record UnitUnderTest(
    String unit, Optional<String> slot, Optional<FixtureSetUp> setUp, RunFacts facts) {
  /** A unit alone on its bench. */
  public static UnitUnderTest of(String unit) {
    return new UnitUnderTest(unit, Optional.empty(), Optional.empty(), RunFacts.NONE);
  }

  /** The same with further facts for the logbook. */
  public UnitUnderTest with(RunFacts more) {
    return new UnitUnderTest(unit, slot, setUp, facts.and(more));
  }

  /** A unit in a slot; without one where the name is empty. */
  public static UnitUnderTest in(String slot, String unit) {
    return new UnitUnderTest(
        unit, Optional.of(slot).filter(s -> !s.isEmpty()), Optional.empty(), RunFacts.NONE);
  }
}
