// SPDX-License-Identifier: Apache-2.0
package millrace.architecture;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaMethod;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import java.net.URISyntaxException;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.ServiceLoader;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import millrace.bench.role.InstrumentDriver;
import millrace.datasheet.Datasheet;
import millrace.link.Framing;
import millrace.link.Link;
import millrace.link.LinkTimeouts;
import org.junit.jupiter.api.Test;

/**
 * Main code is there for a command, for a driver that is a class of its own, or for work that is
 * under way; what only tests call belongs with the tests, or goes. The simulated bench is there for
 * tests too: in it, what a test comes to counts.
 */
class MainCodeIsReachedTest {
  private static final String PLANTED = "millrace.architecture.planted";

  /** What a driver is made of, and what it is handed. */
  private static final String ROLES = "millrace.bench.role";

  private static final List<Class<?>> HANDED =
      List.of(Link.class, Framing.class, LinkTimeouts.class);

  /** What plays a bench, and its time. */
  private static final List<String> SIMULATED =
      List.of(
          "millrace.sim.", "millrace.night.SimulatedBenchSession.", "millrace.time.VirtualClock.");

  /** Methods that nothing calls yet, with the work under way that will. */
  private static final Map<String, String> COMING = Map.of();

  private static Path place(Class<?> one) throws URISyntaxException {
    return Path.of(one.getProtectionDomain().getCodeSource().getLocation().toURI());
  }

  private static Stream<JavaMethod> methods(JavaClasses classes, String name) {
    return classes.stream()
        .flatMap(c -> c.getMethods().stream())
        .filter(m -> m.getName().equals(name));
  }

  private static CallWalk commands(JavaClasses house) {
    CallWalk walk = new CallWalk(house, "millrace");
    walk.from(methods(house, "main"));
    List<JavaClass> services =
        ServiceLoader.load(InstrumentDriver.class).stream().map(s -> house.get(s.type())).toList();
    assertTrue(!services.isEmpty(), "no driver is found as a service");
    services.forEach(walk::askedOf);
    house.stream().filter(c -> c.getPackageName().equals(ROLES)).forEach(walk::askedOf);
    HANDED.forEach(c -> walk.askedOf(house.get(c)));
    return walk;
  }

  private static Set<String> unreachedByTestsToo(JavaClasses all, String main) {
    CallWalk walk = new CallWalk(all, "millrace");
    walk.from(
        all.stream()
            .filter(c -> !isAt(c, main) && !c.getPackageName().equals(PLANTED))
            .flatMap(c -> c.getCodeUnits().stream()));
    return walk.unreached();
  }

  private static boolean isAt(JavaClass type, String place) {
    return type.getSource().orElseThrow().getUri().toString().startsWith(place);
  }

  @Test
  void everyMethodIsThereForACommandADriverOrWorkUnderWay() throws URISyntaxException {
    Path here = place(Datasheet.class);
    JavaClasses all = new ClassFileImporter().importPaths(here, place(MainCodeIsReachedTest.class));
    String main = here.toUri().toString();
    JavaClasses house = all.that(DescribedPredicate.describe("of main", c -> isAt(c, main)));
    assertTrue(house.size() > 1000, () -> house.size() + " classes");
    Set<String> unreached = new TreeSet<>(commands(house).unreached());
    Set<String> byTestsToo = unreachedByTestsToo(all, main);
    unreached.removeIf(
        name -> SIMULATED.stream().anyMatch(name::startsWith) && !byTestsToo.contains(name));

    assertEquals(
        COMING.keySet(),
        unreached,
        "left: what waits for work under way; right: what nothing calls. Call it, move it to the"
            + " tests, or take it out");
  }

  @Test
  void aMethodThatNothingCallsIsFound() {
    JavaClasses planted = new ClassFileImporter().importPackages(PLANTED);
    CallWalk walk = new CallWalk(planted, PLANTED);
    walk.from(methods(planted, "call"));

    assertTrue(walk.unreached().contains(PLANTED + ".LeafThatLooksUp.clean()"));
    assertFalse(walk.unreached().contains(PLANTED + ".Stated.<init>(double,double)"));
  }
}
