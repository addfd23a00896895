// SPDX-License-Identifier: Apache-2.0
package millrace.architecture;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.Dependency;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import millrace.datasheet.Datasheet;
import org.junit.jupiter.api.Test;

/**
 * Classes of a package that need one another in a circle can only be read all at once. A class
 * stands here with all that is nested in it. What compiled classes need is read from them; what
 * only the source names is read from there, since a constant is copied into who uses it, and a
 * sealed type names its kinds: both leave no trace of a need.
 */
class ClassCyclesTest {
  private static final String PLANTED = "millrace.architecture.planted";
  private static final Path MAIN = Path.of("src/main/java");

  /** Knots that are not worth untying, each with its reason. No package is exempt as a whole. */
  private static final Map<Set<String>, String> ALLOWED =
      Map.of(
          inPackage(
              "millrace.fault",
              "MillraceException",
              "BadInputException",
              "InstrumentException",
              "InterlockException",
              "LogbookException",
              "NotAnalysableException",
              "OutputException",
              "StoppedException",
              "TrialLapFailedException",
              "UnsafeBenchException"),
          "a sealed class and its kinds: each is read with the head of the family alone",
          inPackage("millrace.link", "ReplyFrame", "LineFrame", "BlockFrame", "RtuFrame"),
          "a sealed interface and its kinds: each is read with the interface alone",
          inPackage("millrace.sequence", "Step", "SweepVariable"),
          "the grammar itself: a sweep has steps, and goes through what has steps meanwhile");

  private static final Pattern NO_CODE =
      Pattern.compile(
          "\"\"\".*?\"\"\"|\"(?:[^\"\\\\\n]|\\\\.)*\"|'(?:[^'\\\\\n]|\\\\.)+'|//[^\n]*|/\\*.*?\\*/",
          Pattern.DOTALL);

  private static final Pattern NAME = Pattern.compile("(?<![.\\w])[A-Z]\\w*");
  private static final Pattern DECLARED =
      Pattern.compile("\\b(?:class|record|interface|enum)\\s+(\\w+)");
  private static final Pattern IMPORTED = Pattern.compile("(?m)^import (?:static )?([\\w.]+);");

  private static Set<String> inPackage(String name, String... classes) {
    return Arrays.stream(classes)
        .map(c -> name + "." + c)
        .collect(Collectors.toCollection(TreeSet::new));
  }

  private static Map<String, Set<String>> needs(JavaClasses classes, Path sources)
      throws IOException {
    Map<String, Set<String>> needs = new TreeMap<>();
    for (JavaClass each : classes) {
      Set<String> of = needs.computeIfAbsent(outermost(each), c -> new TreeSet<>());
      for (Dependency needed : each.getDirectDependenciesFromSelf()) {
        if (needed.getTargetClass().getPackageName().equals(each.getPackageName())) {
          of.add(outermost(needed.getTargetClass()));
        }
      }
    }
    for (Map.Entry<String, Set<String>> each : needs.entrySet()) {
      each.getValue().addAll(named(each.getKey(), sources, needs.keySet()));
      each.getValue().remove(each.getKey());
    }
    return needs;
  }

  /** The classes of its own package that the source of a class names. */
  private static Set<String> named(String of, Path sources, Set<String> all) throws IOException {
    String packageName = of.substring(0, of.lastIndexOf('.') + 1);
    String code =
        NO_CODE
            .matcher(Files.readString(sources.resolve(of.replace('.', '/') + ".java")))
            .replaceAll(" ");
    Set<String> others =
        DECLARED
            .matcher(code)
            .results()
            .map(r -> r.group(1))
            .collect(Collectors.toCollection(TreeSet::new));
    Set<String> found = new TreeSet<>();
    IMPORTED
        .matcher(code)
        .results()
        .map(r -> r.group(1))
        .forEach(
            name -> {
              others.add(name.substring(name.lastIndexOf('.') + 1));
              all.stream().filter(c -> name.startsWith(c + ".")).forEach(found::add);
            });
    NAME.matcher(code.replaceAll("(?m)^(?:import|package) .*$", ""))
        .results()
        .map(r -> r.group())
        .filter(n -> !others.contains(n) && all.contains(packageName + n))
        .forEach(n -> found.add(packageName + n));
    found.removeIf(n -> !n.matches(Pattern.quote(packageName) + "\\w+"));
    return found;
  }

  private static String outermost(JavaClass each) {
    return each.getBaseComponentType().getName().replaceFirst("\\$.*", "");
  }

  private static Set<Set<String>> knots(Map<String, Set<String>> needs) {
    Map<String, Set<String>> reached = new TreeMap<>();
    needs.keySet().forEach(name -> reached.put(name, reached(name, needs)));
    return needs.keySet().stream()
        .filter(name -> reached.get(name).contains(name))
        .map(
            name ->
                reached.get(name).stream()
                    .filter(other -> reached.get(other).contains(name))
                    .collect(Collectors.toCollection(TreeSet::new)))
        .collect(Collectors.toSet());
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
  void noClassOfAPackageNeedsItselfByWayOfOthers() throws URISyntaxException, IOException {
    Path main =
        Path.of(Datasheet.class.getProtectionDomain().getCodeSource().getLocation().toURI());
    JavaClasses house = new ClassFileImporter().importPath(main);

    assertTrue(house.size() > 1000, () -> house.size() + " classes");
    assertEquals(ALLOWED.keySet(), knots(needs(house, MAIN)));
  }

  @Test
  void aPlantedCircleIsFound() throws IOException {
    Set<Set<String>> expected =
        Set.of(
            inPackage(PLANTED, "OneOfTwo", "TwoOfTwo"),
            inPackage(PLANTED, "NamesAConstant", "HasAConstant"));
    assertEquals(
        expected,
        knots(needs(new ClassFileImporter().importPackages(PLANTED), Path.of("src/test/java"))));
  }
}
