// SPDX-License-Identifier: Apache-2.0
package millrace.architecture;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.Dependency;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import java.net.URISyntaxException;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import millrace.datasheet.Datasheet;
import org.junit.jupiter.api.Test;

/**
 * Classes of a package that need one another in a circle can only be read all at once. A class
 * stands here with all that is nested in it. That a sealed type names its kinds is no dependency.
 */
class ClassCyclesTest {
  private static final String PLANTED = "millrace.architecture.planted";

  /** Packages that still have knots. This list only ever gets shorter. */
  private static final Set<String> NOT_YET =
      Set.of(
          "analysis.design",
          "analysis.temperature",
          "bench",
          "bench.driver",
          "logbook",
          "report.plot",
          "sequence");

  private static Set<String> knotted(JavaClasses classes) {
    Map<String, Set<String>> needs = new TreeMap<>();
    for (JavaClass each : classes) {
      Set<String> of = needs.computeIfAbsent(outermost(each), c -> new TreeSet<>());
      for (Dependency needed : each.getDirectDependenciesFromSelf()) {
        if (needed.getTargetClass().getPackageName().equals(each.getPackageName())) {
          of.add(outermost(needed.getTargetClass()));
        }
      }
      of.remove(outermost(each));
    }
    Set<String> knotted = new TreeSet<>(needs.keySet());
    knotted.removeIf(name -> !reached(name, needs).contains(name));
    return knotted;
  }

  private static String outermost(JavaClass each) {
    return each.getBaseComponentType().getName().replaceFirst("\\$.*", "");
  }

  private static Set<String> reached(String from, Map<String, Set<String>> needs) {
    Set<String> reached = new TreeSet<>();
    Deque<String> waiting = new ArrayDeque<>(needs.get(from));
    while (!waiting.isEmpty()) {
      String next = waiting.poll();
      if (reached.add(next)) {
        waiting.addAll(needs.getOrDefault(next, Set.of()));
      }
    }
    return reached;
  }

  @Test
  void noClassOfAPackageNeedsItselfByWayOfOthers() throws URISyntaxException {
    Path main =
        Path.of(Datasheet.class.getProtectionDomain().getCodeSource().getLocation().toURI());
    JavaClasses house = new ClassFileImporter().importPath(main);

    assertTrue(house.size() > 1000, () -> house.size() + " classes");
    Set<String> packages = new TreeSet<>();
    knotted(house).forEach(name -> packages.add(name.replaceFirst("millrace\\.(.*)\\.\\w+", "$1")));
    assertEquals(new TreeSet<>(NOT_YET), packages);
  }

  @Test
  void aPlantedCircleIsFound() {
    assertEquals(
        Set.of(PLANTED + ".OneOfTwo", PLANTED + ".TwoOfTwo"),
        knotted(new ClassFileImporter().importPackages(PLANTED)));
  }
}
