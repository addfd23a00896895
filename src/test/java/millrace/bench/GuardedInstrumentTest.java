// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.lang.reflect.Method;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import millrace.bench.role.Chamber;
import millrace.bench.role.Instrument;
import millrace.bench.role.Supply;
import org.junit.jupiter.api.Test;

/**
 * Whoever holds an instrument to what its bench file allows hands everything else on: a method of
 * the interface that is left out would do what its default does, and not what the driver does.
 */
class GuardedInstrumentTest {
  private static List<String> leftOut(Class<?> face, Class<?> holder) {
    List<String> leftOut = new ArrayList<>();
    for (Method each : face.getMethods()) {
      boolean there =
          Arrays.stream(holder.getDeclaredMethods())
              .anyMatch(
                  m ->
                      m.getName().equals(each.getName())
                          && Arrays.equals(m.getParameterTypes(), each.getParameterTypes()));
      if (!there) {
        leftOut.add(each.getName());
      }
    }
    return leftOut;
  }

  private static Class<?> inside(Class<?> face) {
    return Arrays.stream(GuardedInstrument.class.getDeclaredClasses())
        .filter(face::isAssignableFrom)
        .findFirst()
        .orElseThrow();
  }

  @Test
  void handsOnEveryMethodOfAnInstrumentASupplyAndAChamber() {
    assertEquals(List.of(), leftOut(Instrument.class, GuardedInstrument.class));
    assertEquals(List.of(), leftOut(Supply.class, inside(Supply.class)));
    assertEquals(List.of(), leftOut(Chamber.class, inside(Chamber.class)));
    assertTrue(Instrument.class.getMethods().length >= 10);
  }
}
