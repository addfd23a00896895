// SPDX-License-Identifier: Apache-2.0
package millrace.architecture;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import millrace.evidence.Version;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Holds what the pages say of the house against the house. */
class PagesTest {
  private static final Path MAIN = Path.of("src/main");
  private static final Pattern HEADING = Pattern.compile("(?m)^#{2,3} (\\d+(?:\\.\\d+)?) ");
  private static final Pattern CITATION =
      Pattern.compile("(?:methods\\.md|Methods of Millrace)[\\s*+\"]{1,40}(\\d+(?:\\.\\d+)?)");

  /** A page that is cited with a section behind its name. */
  private static final Pattern CITED_PAGE =
      Pattern.compile("(\\w[\\w-]*\\.md)[\\s*+\"]{1,40}\\d+\\.\\d");

  private static final Pattern CODE = Pattern.compile("`([^`\n]+)`");
  private static final Pattern TEST = Pattern.compile("`(\\w+(?:IT|Test|Contract)\\.\\w+)`");
  private static final Pattern STEP = Pattern.compile("`([a-z/]+/[A-Z]\\w+:\\w+)`");
  private static final Pattern TYPE = Pattern.compile("(?:[a-z]+\\.)*[A-Z][A-Za-z]+");

  private static String text(Path file) {
    try {
      return Files.readString(file);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static List<Path> sources() throws IOException {
    try (Stream<Path> all = Files.walk(MAIN)) {
      return all.filter(p -> p.toString().matches(".*\\.(java|json|css|js)")).toList();
    }
  }

  private static Set<String> all(Pattern pattern, String text) {
    Set<String> found = new TreeSet<>();
    pattern.matcher(text).results().map(r -> r.group(1)).forEach(found::add);
    return found;
  }

  @Test
  void everySectionThatTheCodeCitesIsOnThePageOfMethods() throws IOException {
    Set<String> headings = all(HEADING, text(Path.of("src/site/methods.md")));
    List<String> citations = new ArrayList<>();
    List<String> lost = new ArrayList<>();
    for (Path source : sources()) {
      Matcher matcher = CITATION.matcher(text(source));
      for (MatchResult cited : matcher.results().toList()) {
        citations.add(cited.group(1));
        if (!headings.contains(cited.group(1))) {
          lost.add(source + " cites " + cited.group(1));
        }
      }
    }
    assertTrue(citations.size() > 150, "only " + citations.size() + " citations were seen");
    assertEquals(List.of(), lost);
  }

  /** There is no such file: the page is called methods.md. */
  @Test
  void nothingCitesThePageByAnotherName() throws IOException {
    List<Path> sources = sources();
    assertTrue(sources.size() > 900, "only " + sources.size() + " files were seen");
    List<Path> wrong = new ArrayList<>();
    for (Path source : sources) {
      if (text(source).contains("measurement.md")) {
        wrong.add(source);
      }
    }
    assertEquals(List.of(), wrong);
  }

  /**
   * As LICENSE and pom.xml say, so that a file that is copied elsewhere takes its licence along.
   */
  @Test
  void everyJavaFileOpensWithItsLicence() throws IOException {
    List<Path> java = new ArrayList<>();
    for (String folder : List.of("src", "examples")) {
      try (Stream<Path> all = Files.walk(Path.of(folder))) {
        all.filter(p -> p.toString().endsWith(".java")).forEach(java::add);
      }
    }
    assertTrue(java.size() > 1000, "only " + java.size() + " files were seen");
    assertEquals(
        List.of(),
        java.stream()
            .filter(p -> !text(p).startsWith("// SPDX-License-Identifier: Apache-2.0\n"))
            .toList());
  }

  @Test
  void thePageThatIsCitedIsTheOneThatAReaderFinds() throws IOException {
    Path page = Path.of("src/site/methods.md");
    assertTrue(text(page).startsWith("# Methods of Millrace\n"));
    Set<String> cited = new TreeSet<>();
    for (Path source : sources()) {
      cited.addAll(all(CITED_PAGE, text(source)));
    }
    assertEquals(Set.of(page.getFileName().toString()), cited);
  }

  /** What a person reads in a file, in `--help` and in the list of changes is one version. */
  @Test
  void theVersionIsTheSameWhereverItStands() {
    String version = Version.CURRENT;
    assertTrue(
        text(Path.of("pom.xml")).contains("<version>%s</version>\n  <pack".formatted(version)));
    assertTrue(
        text(Path.of("examples/java-driver/pom.xml"))
            .contains(
                "<artifactId>millrace</artifactId>\n      <version>%s</version>"
                    .formatted(version)));
    List<String> headings =
        Pattern.compile("(?m)^## (.*)$")
            .matcher(text(Path.of("CHANGELOG.md")))
            .results()
            .map(r -> r.group(1))
            .toList();
    assertTrue(headings.get(0).startsWith(version + " - 20"), headings.toString());
    assertTrue(
        headings.stream().allMatch(h -> h.matches("\\d+\\.\\d+\\.\\d+ - \\d{4}-\\d\\d-\\d\\d")));
  }

  @Test
  void everyDecisionIsShortNamedAndSaysWhenToLookAgain() throws IOException {
    Path folder = Path.of("src/site/decisions");
    String list = text(folder.resolve("README.md"));
    List<Path> decisions;
    try (Stream<Path> all = Files.list(folder)) {
      decisions = all.filter(p -> !p.endsWith("README.md")).sorted().toList();
    }
    assertTrue(decisions.size() >= 10, () -> decisions.size() + " decisions");
    for (Path decision : decisions) {
      String text = text(decision);
      assertTrue(list.contains("(" + decision.getFileName() + ")"), decision + " is not listed");
      assertTrue(text.lines().count() <= 12, decision + " is long");
      for (String part :
          List.of("# Why ", "**Decision.**", "**Because**", "**Price.**", "**Look again**")) {
        assertTrue(text.contains(part), decision + " lacks " + part);
      }
      for (String named : all(Pattern.compile("`([A-Z]\\w+Test)`"), text)) {
        assertTrue(isTest(named), decision + " names " + named);
      }
    }
  }

  private static boolean isTest(String name) throws IOException {
    try (Stream<Path> all = Files.walk(Path.of("src/test/java"))) {
      return all.anyMatch(p -> p.getFileName().toString().equals(name + ".java"));
    }
  }

  @Test
  void theSectionsOfThePageOfMethodsStandInOrder() {
    List<String> headings =
        HEADING
            .matcher(text(Path.of("src/site/methods.md")))
            .results()
            .map(r -> r.group(1))
            .toList();
    List<String> ordered =
        headings.stream()
            .distinct()
            .sorted(
                java.util.Comparator.comparingInt(PagesTest::chapter)
                    .thenComparingInt(PagesTest::section))
            .toList();
    assertEquals(ordered, headings);
    assertEquals(13, headings.stream().filter(h -> !h.contains(".")).count());
  }

  private static int chapter(String heading) {
    return Integer.parseInt(heading.split("\\.")[0]);
  }

  private static int section(String heading) {
    return heading.contains(".") ? Integer.parseInt(heading.split("\\.")[1]) : 0;
  }

  /** What a build makes, below target, is not there before it. */
  @ParameterizedTest
  @ValueSource(strings = {"README.md", "DEVELOPERS.md", "examples/README.md", "drivers/README.md"})
  void everyFileThatAPageNamesIsThere(String page) {
    String text = text(Path.of(page));
    Set<String> named = new TreeSet<>(all(CODE, text));
    all(Pattern.compile("(?m)((?:sequences|examples|drivers)/[\\w./-]+)"), text)
        .forEach(named::add);
    Path beside = Path.of(page).toAbsolutePath().getParent();
    Set<String> lost =
        named.stream()
            .filter(n -> n.matches("[\\w.-]*/[\\w./-]+|[\\w-]+\\.(md|yaml|cmd|csv)|LICENSE"))
            .filter(n -> !n.startsWith("target/"))
            .filter(n -> !Files.exists(beside.resolve(n)) && !Files.exists(Path.of(n)))
            .collect(Collectors.toCollection(TreeSet::new));
    assertEquals(Set.of(), lost);
  }

  @Test
  void everyTypeThatTheDevelopersPageNamesIsThere() throws IOException {
    Set<String> there =
        sources().stream()
            .map(p -> p.toString().replace('/', '.').replaceFirst("\\.java$", ""))
            .collect(Collectors.toCollection(TreeSet::new));
    Set<String> named = all(CODE, text(Path.of("DEVELOPERS.md")));
    named.removeIf(n -> !TYPE.matcher(n).matches() || n.endsWith("Test"));
    assertTrue(named.size() > 10, "only " + named);
    Set<String> lost = new TreeSet<>(named);
    lost.removeIf(n -> there.stream().anyMatch(t -> t.endsWith("." + n)));
    assertEquals(Set.of(), lost);
  }

  @Test
  void everyTestThatTheDevelopersPageNamesIsThere() throws IOException {
    Set<String> named = all(TEST, text(Path.of("DEVELOPERS.md")));
    assertTrue(named.size() > 20, "only " + named);
    try (Stream<Path> walk = Files.walk(Path.of("src/test/java"))) {
      List<Path> tests = walk.toList();
      named.removeIf(n -> tests.stream().anyMatch(p -> isIn(p, n.split("\\."))));
    }
    assertEquals(Set.of(), named);
  }

  @Test
  void everyStepOfAWalkThatTheDevelopersPageNamesIsThere() {
    Set<String> steps = all(STEP, text(Path.of("DEVELOPERS.md")));
    assertTrue(steps.size() > 20, "only " + steps);
    steps.removeIf(
        step -> {
          String[] parts = step.split(":");
          Path file = MAIN.resolve("java/millrace/" + parts[0] + ".java");
          return Files.exists(file) && text(file).contains(" " + parts[1] + "(");
        });
    assertEquals(Set.of(), steps);
  }

  private static boolean isIn(Path file, String[] test) {
    return file.endsWith(test[0] + ".java") && text(file).contains("  void " + test[1] + "(");
  }

  @Test
  void theFinishedReportSaysThatItIsSimulatedAndNamesNoMachine() {
    String report = text(Path.of("examples/report.html"));
    assertTrue(report.contains("SIMULATED"));
    assertTrue(report.contains("<svg"));
    assertEquals(-1, report.indexOf("=\"/"), "a path of the machine that made it");
    assertEquals(-1, report.indexOf("/tmp/"));
  }
}
