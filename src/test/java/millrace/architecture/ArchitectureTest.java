// SPDX-License-Identifier: Apache-2.0
package millrace.architecture;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.lang.ArchRule;
import com.tngtech.archunit.library.dependencies.SliceAssignment;
import com.tngtech.archunit.library.dependencies.SliceIdentifier;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Stream;
import millrace.bench.role.BenchOperator;
import millrace.run.control.OperatorPrompt;
import millrace.run.control.RunObserver;
import millrace.run.control.RunOutcome;
import millrace.run.control.StopRequest;
import millrace.sequence.Plan;
import millrace.sequence.Step;
import millrace.sequence.SweepVariable;
import millrace.sequence.Task;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Holds the rooms and the arrows between them, and keeps foreign libraries in their room. */
class ArchitectureTest {
  private static final JavaClasses HOUSE =
      new ClassFileImporter()
          .withImportOption(location -> !location.contains(testClasses()))
          .importPackages("millrace");

  /** Where the tests stand, in whatever folder they were compiled to. */
  private static String testClasses() {
    return ArchitectureTest.class.getProtectionDomain().getCodeSource().getLocation().getPath();
  }

  private static final int MOST_FILES = 30;

  private static final Set<String> LEAVES =
      Set.of("document", "calibration", "evidence", "quantity", "time", "lock", "fault");

  private static final SliceAssignment EACH_PACKAGE =
      new SliceAssignment() {
        @Override
        public SliceIdentifier getIdentifierOf(JavaClass each) {
          return SliceIdentifier.of(each.getPackageName());
        }

        @Override
        public String getDescription() {
          return "each package";
        }
      };

  /** Each room with the rooms it may know; what is not listed may not be known. */
  private static final Map<String, Set<String>> ARROWS = arrows();

  private static Map<String, Set<String>> arrows() {
    Map<String, Set<String>> arrows = new TreeMap<>();
    arrows.put("fault", Set.of());
    arrows.put("time", Set.of());
    arrows.put("lock", Set.of());
    arrows.put("quantity", Set.of("fault"));
    arrows.put("evidence", Set.of("quantity"));
    arrows.put("calibration", Set.of("quantity"));
    arrows.put("document", Set.of("fault", "quantity", "time"));
    arrows.put("sim", LEAVES);
    arrows.put("analysis", LEAVES);
    arrows.put("logbook", LEAVES);
    arrows.put("link", LEAVES);
    arrows.put("datasheet", LEAVES);
    arrows.put("laboratory", LEAVES);
    arrows.put("bench", with(LEAVES, "link", "datasheet"));
    arrows.put("sequence", with(LEAVES, "datasheet"));
    arrows.put("assessment", with(LEAVES, "analysis", "logbook", "bench", "datasheet"));
    arrows.put("run", with(LEAVES, "sequence", "bench", "datasheet", "logbook", "analysis"));
    arrows.put(
        "planning", with(LEAVES, "assessment", "analysis", "sequence", "bench", "datasheet"));
    arrows.put("exchange", with(LEAVES, "assessment", "logbook", "datasheet", "laboratory"));
    // An assessment hands its curves on as they are: plots are drawn from them.
    arrows.put(
        "report",
        with(LEAVES, "planning", "assessment", "logbook", "analysis", "datasheet", "laboratory"));
    // Of run, sequence and bench a terminal knows the faces below alone.
    arrows.put("terminal", with(LEAVES, "run", "sequence", "bench"));
    arrows.put(
        "night",
        with(
            LEAVES,
            "terminal",
            "sim",
            "analysis",
            "logbook",
            "link",
            "datasheet",
            "bench",
            "sequence",
            "assessment",
            "run",
            "planning",
            "report"));
    // Pages of a run that goes on: the report's words and pictures, and the file of its requests.
    arrows.put(
        "watch",
        with(
            LEAVES,
            "analysis",
            "logbook",
            "datasheet",
            "bench",
            "sequence",
            "assessment",
            "run",
            "report",
            "night"));
    arrows.put(
        "cli",
        with(
            LEAVES,
            "sim",
            "analysis",
            "logbook",
            "link",
            "datasheet",
            "bench",
            "sequence",
            "assessment",
            "run",
            "exchange",
            "report",
            "terminal",
            "night",
            "watch",
            "planning",
            "laboratory"));
    return arrows;
  }

  private static Set<String> with(Set<String> rooms, String... more) {
    Set<String> all = new TreeSet<>(rooms);
    all.addAll(List.of(more));
    return all;
  }

  static Stream<String> rooms() {
    return ARROWS.keySet().stream();
  }

  @ParameterizedTest
  @MethodSource("rooms")
  void aRoomKnowsOnlyTheRoomsBelowIt(String room) {
    arrowRule(room, ARROWS.get(room)).check(HOUSE);
  }

  private static ArchRule arrowRule(String room, Set<String> known) {
    List<String> allowed = new ArrayList<>(List.of("millrace." + room + ".."));
    known.forEach(k -> allowed.add("millrace." + k + ".."));
    return noClasses()
        .that()
        .resideInAPackage("millrace." + room + "..")
        .should()
        .dependOnClassesThat(outside(allowed))
        .because("arrows point downward only: see the map in DEVELOPERS.md");
  }

  private static DescribedPredicate<JavaClass> outside(List<String> allowed) {
    return JavaClass.Predicates.resideInAPackage("millrace..")
        .and(
            DescribedPredicate.not(
                JavaClass.Predicates.resideInAnyPackage(allowed.toArray(String[]::new))))
        .as("reside in a room that it may not know");
  }

  @Test
  void everyPackageBelongsToARoomThatTheMapNames() {
    Set<String> found = new TreeSet<>();
    HOUSE.forEach(c -> found.add(c.getPackageName().split("\\.")[1]));
    found.removeAll(ARROWS.keySet());
    assertEquals(Set.of(), found);
  }

  /**
   * What a newcomer can take in. A logbook's many are private to it: parted, they would be public.
   */
  @Test
  void aPackageHoldsAtMostThirtyFiles() throws IOException {
    Set<String> exempt = Set.of("logbook");
    Path main = Path.of("src/main/java/millrace");
    Map<String, Integer> larger = new TreeMap<>();
    int packages = 0;
    try (Stream<Path> folders = Files.walk(main)) {
      for (Path folder : folders.filter(Files::isDirectory).toList()) {
        String[] files = folder.toFile().list((in, name) -> name.endsWith(".java"));
        packages += files.length > 0 ? 1 : 0;
        if (files.length > MOST_FILES && !exempt.contains(main.relativize(folder).toString())) {
          larger.put(main.relativize(folder).toString(), files.length);
        }
      }
    }
    assertTrue(packages > 50, packages + " packages");
    assertEquals(Map.of(), larger);
  }

  @Test
  void noTwoPackagesKnowEachOther() {
    slices().assignedFrom(EACH_PACKAGE).should().beFreeOfCycles().check(HOUSE);
  }

  /** Rules pass easily where nothing is seen: each room must be there with about what it holds. */
  @ParameterizedTest
  @CsvSource({
    "analysis, 120",
    "assessment, 50",
    "bench, 90",
    "calibration, 4",
    "cli, 45",
    "datasheet, 15",
    "document, 25",
    "evidence, 20",
    "exchange, 10",
    "fault, 8",
    "link, 15",
    "laboratory, 3",
    "lock, 2",
    "logbook, 25",
    "night, 20",
    "planning, 3",
    "quantity, 3",
    "report, 25",
    "run, 40",
    "sequence, 25",
    "sim, 50",
    "terminal, 15",
    "time, 4",
    "watch, 25"
  })
  void theRulesSeeTheWholeRoom(String room, int floor) {
    long seen =
        HOUSE.stream()
            .filter(c -> c.getPackageName().matches("millrace\\." + room + "(\\..*)?"))
            .count();
    assertTrue(seen >= floor, "only " + seen + " classes of " + room + " were seen");
  }

  @Test
  void noRoomIsWithoutAFloor() throws NoSuchMethodException {
    String[] floors =
        ArchitectureTest.class
            .getDeclaredMethod("theRulesSeeTheWholeRoom", String.class, int.class)
            .getAnnotation(CsvSource.class)
            .value();
    Set<String> rooms = new TreeSet<>();
    Stream.of(floors).forEach(f -> rooms.add(f.split(",")[0]));
    assertEquals(ARROWS.keySet(), rooms);
  }

  @Test
  void aPlantedArrowUpwardIsCaught() {
    JavaClasses planted =
        new ClassFileImporter().importPackages("millrace.architecture.planted", "millrace.fault");
    ArchRule rule =
        noClasses()
            .that()
            .resideInAPackage("millrace.architecture.planted..")
            .should()
            .dependOnClassesThat(outside(List.of("millrace.architecture.planted..")));
    assertThrows(AssertionError.class, () -> rule.check(planted));
  }

  @Test
  void aTerminalKnowsNothingOfARunButItsFaces() {
    DescribedPredicate<JavaClass> faces =
        JavaClass.Predicates.resideInAPackage("millrace.terminal..")
            .or(JavaClass.Predicates.resideInAnyPackage(leaves()))
            .or(JavaClass.Predicates.belongToAnyOf(RunObserver.class, RunOutcome.class))
            .or(JavaClass.Predicates.belongToAnyOf(OperatorPrompt.class, StopRequest.class))
            .or(JavaClass.Predicates.belongToAnyOf(BenchOperator.class, Plan.class));
    noClasses()
        .that()
        .resideInAPackage("millrace.terminal..")
        .should()
        .dependOnClassesThat(
            JavaClass.Predicates.resideInAPackage("millrace..")
                .and(DescribedPredicate.not(faces))
                .as("are more than what a run shows to who is there"))
        .check(HOUSE);
  }

  private static String[] leaves() {
    return LEAVES.stream().map(leaf -> "millrace." + leaf + "..").toArray(String[]::new);
  }

  private static ArchRule only(String library, String why, String... rooms) {
    return noClasses()
        .that()
        .resideOutsideOfPackages(rooms)
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage(library)
        .because(why);
  }

  @Test
  void sqlStaysInTheLogbook() {
    only("java.sql..", "what is stored has one owner", "millrace.logbook..").check(HOUSE);
    only("org.sqlite..", "what is stored has one owner", "millrace.logbook..").check(HOUSE);
    only("org.postgresql..", "what is stored has one owner", "millrace.logbook..").check(HOUSE);
    only("org.flywaydb..", "what is stored has one owner", "millrace.logbook..").check(HOUSE);
  }

  @Test
  void serialPortsAndSocketsStayInLink() {
    only("com.fazecast..", "bytes move in one place", "millrace.link..").check(HOUSE);
    only("com.digitalpetri..", "bytes move in one place", "millrace.link..").check(HOUSE);
    noClasses()
        .that()
        .resideOutsideOfPackages("millrace.link..", "millrace.sim..")
        .should()
        .dependOnClassesThat()
        .haveFullyQualifiedName("java.net.Socket")
        .because("instruments are reached through links; simulated ones listen")
        .check(HOUSE);
  }

  @Test
  void onlyPagesAndNoticesSpeakHttp() {
    only("com.sun.net.httpserver..", "one room answers browsers", "millrace.watch..").check(HOUSE);
    only("java.net.http..", "a notice alone calls elsewhere", "millrace.run.notice..")
        .allowEmptyShould(true)
        .check(HOUSE);
  }

  @Test
  void yamlAndCsvAreReadInDocument() {
    only("org.snakeyaml..", "files are read with their places", "millrace.document..").check(HOUSE);
    only(
            "de.siegmar..",
            "files are read with their places",
            "millrace.document..",
            "millrace.exchange..")
        .check(HOUSE);
  }

  @Test
  void theCommandLineStaysInCli() {
    only("picocli..", "commands live in one room", "millrace.cli..").check(HOUSE);
    only("org.jline..", "people type in one room", "millrace.terminal..").check(HOUSE);
    noClasses()
        .that()
        .resideOutsideOfPackages("millrace.cli..", "millrace.terminal..")
        .should()
        .accessField(System.class, "out")
        .orShould()
        .accessField(System.class, "err")
        .orShould()
        .accessField(System.class, "in")
        .orShould()
        .accessField(java.io.FileDescriptor.class, "out")
        .orShould()
        .accessField(java.io.FileDescriptor.class, "err")
        .because("only these speak to a person")
        .check(HOUSE);
    noClasses()
        .that()
        .resideOutsideOfPackage("millrace.cli..")
        .should()
        .callMethod(Runtime.class, "exit", int.class)
        .orShould()
        .callMethod(Runtime.class, "halt", int.class)
        .orShould()
        .callMethod(System.class, "exit", int.class)
        .because("only a command ends the process")
        .check(HOUSE);
  }

  @Test
  void fittingAndTablesStayInTheirRooms() {
    only("org.apache.commons.math3..", "mathematics lives in analysis", "millrace.analysis..")
        .check(HOUSE);
    only("com.openhtmltopdf..", "loaded where a PDF is asked for", "millrace.report.paper..")
        .check(HOUSE);
    only("com.google.zxing..", "loaded where a code is asked for", "millrace.report.label..")
        .check(HOUSE);
    only("org.apache.parquet..", "what is exported in tables", "millrace.exchange.tables..")
        .check(HOUSE);
    only(
            "org.apache.hadoop..",
            "names that the Parquet writer asks for",
            "millrace.exchange.tables..")
        .check(HOUSE);
    only(
            "tech.tablesaw..",
            "it takes half a second to load: for who writes or turns tables",
            "millrace.exchange..",
            "millrace.assessment.comparison..")
        .check(HOUSE);
  }

  @Test
  void onlyTheSystemClockAsksTheSystemForTime() {
    noClasses()
        .that()
        .resideOutsideOfPackage("millrace.time..")
        .should()
        .callMethod(Instant.class, "now")
        .orShould()
        .callMethod(Clock.class, "systemUTC")
        .orShould()
        .callMethod(Clock.class, "systemDefaultZone")
        .orShould()
        .callMethod(java.time.LocalDate.class, "now")
        .orShould()
        .callMethod(java.time.LocalDateTime.class, "now")
        .orShould()
        .callMethod(java.time.ZonedDateTime.class, "now")
        .orShould()
        .callMethod(java.time.OffsetDateTime.class, "now")
        .orShould()
        .callConstructor(java.util.Date.class)
        .orShould()
        .callMethod(java.util.concurrent.TimeUnit.class, "sleep", long.class)
        .orShould()
        .callMethod(System.class, "nanoTime")
        .orShould()
        .callMethod(System.class, "currentTimeMillis")
        .orShould()
        .callMethod(Thread.class, "sleep", long.class)
        .orShould()
        .callMethod(Thread.class, "sleep", long.class, int.class)
        .because("a night runs in seconds against a simulated bench")
        .check(HOUSE);
  }

  @Test
  void chanceComesFromSeeds() {
    noClasses()
        .that()
        .resideOutsideOfPackage("millrace.time..")
        .should()
        .callConstructor(java.util.Random.class)
        .orShould()
        .callConstructor(java.util.SplittableRandom.class)
        .orShould()
        .callMethod(Math.class, "random")
        .because("a run can be made again")
        .check(HOUSE);
  }

  @Test
  void numbersAreReadAndPrintedInQuantity() {
    noClasses()
        .that()
        .resideOutsideOfPackage("millrace.quantity..")
        .should()
        .callMethod(Double.class, "parseDouble", String.class)
        .orShould()
        .callMethod(Double.class, "valueOf", String.class)
        .orShould()
        .callMethod(Float.class, "parseFloat", String.class)
        .orShould()
        .callConstructor(java.math.BigDecimal.class, String.class)
        .orShould()
        .callConstructor(java.util.Scanner.class, java.io.InputStream.class)
        .orShould()
        .dependOnClassesThat()
        .resideInAnyPackage("java.text..")
        .orShould()
        .callMethod(String.class, "format", String.class, Object[].class)
        .because("one parser and one printer, the same in every locale")
        .check(HOUSE);
  }

  @Test
  void analysisIsPure() {
    noClasses()
        .that()
        .resideInAPackage("millrace.analysis..")
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage("java.io..", "java.nio.file..", "java.net..", "org.slf4j..")
        .because("same input, same bits")
        .check(HOUSE);
  }

  @Test
  void everyPackageSaysWhatItIsFor() {
    classes()
        .that()
        .haveSimpleName("package-info")
        .should()
        .beAnnotatedWith("org.jspecify.annotations.NullMarked")
        .check(new ClassFileImporter().importPackages("millrace"));
  }

  /** A kind that one of them forgot would end a night half way: a visitor does not compile. */
  @ParameterizedTest
  @ValueSource(classes = {Task.class, Step.class, SweepVariable.class})
  void noKindOfStepIsToldFromAnotherByItsClass(Class<?> family) {
    List<String> asked =
        HOUSE.stream()
            .flatMap(c -> c.getInstanceofChecks().stream())
            .filter(check -> check.getRawType().isAssignableTo(family))
            .map(
                check ->
                    check.getOwner().getFullName() + " asks for " + check.getRawType().getName())
            .toList();

    assertEquals(List.of(), asked);
    assertTrue(family.getPermittedSubclasses().length > 3);
  }
}
