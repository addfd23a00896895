// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import millrace.analysis.load.KneeSearch.Question;
import millrace.analysis.load.KneeSearch.Tried;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class KneeSearchTest {
  private static final Question QUESTION = new Question(1e-3, 1e-3, 0.05, 100, 15e3);

  private static List<Tried> search(Sweeps.Truth truth, Question question) {
    List<Tried> tried = new ArrayList<>();
    OptionalDouble next = KneeSearch.next(tried, question);
    while (next.isPresent()) {
      double ohm = next.getAsDouble();
      tried.add(new Tried(ohm, truth.currentA().applyAsDouble(truth.voltageAt(ohm))));
      next = KneeSearch.next(tried, question);
    }
    return tried;
  }

  @ParameterizedTest
  @ValueSource(doubles = {1.5, 4.2, 9.3, 13.9})
  void theBracketCloses(double kneeV) {
    List<Tried> tried = search(Sweeps.sharp(1e-3, 0, kneeV, 500), QUESTION);
    double inside = 0;
    double outside = Double.MAX_VALUE;
    for (Tried t : tried) {
      if (t.currentA() > 0.999e-3) {
        inside = Math.max(inside, t.loadOhm());
      } else {
        outside = Math.min(outside, t.loadOhm());
      }
    }
    assertTrue(1e-3 * (outside - inside) <= 0.05);
    // log2(14.9 V/0.05 V) is 8.2: 9 halvings, two more, and the two ends
    assertTrue(tried.size() <= 13, "needed " + tried.size());
  }

  @Test
  void aSourceThatHoldsEverywhereTakesTwoLoads() {
    assertEquals(2, search(Sweeps.sharp(1e-3, 0, 40, 500), QUESTION).size());
  }

  @Test
  void aSourceThatNeverHoldsIsGivenUp() {
    assertEquals(1, search(Sweeps.sharp(0.5e-3, 0, 9, 500), QUESTION).size());
  }

  @Test
  void aResolutionOfNothingIsRefused() {
    assertThrows(IllegalArgumentException.class, () -> new Question(1e-3, 1e-3, 0, 0, 1e3));
  }
}
