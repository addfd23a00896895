// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import millrace.Needs;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What the tab key offers, and that the shells take it. */
class TabCompletionIT {
  @TempDir Path folder;

  private static List<String> offered(String... words) {
    List<String> all = new ArrayList<>(List.of("--complete"));
    all.addAll(List.of(words));
    Spoken said = Spoken.done(all.toArray(String[]::new));
    return said.out().lines().map(l -> l.split("\t")[0]).toList();
  }

  @ParameterizedTest
  @CsvSource({
    "an, analyze",
    "bench|ta, talk",
    "help|an, analyze",
    "run|sequences/quick, sequences/quick-look.yaml",
    "run|sequ, sequences/",
    "run|sequences/quick-look.yaml|--data, --datasheet",
    "run|x|--datasheet|examples/fx, examples/fx-3.datasheet.yaml",
    "bench|talk|--bench|examples/osk-bench-3.bench.yaml|pi, picos",
    "new|dat, datasheet",
    "schema|res, results",
    "--comp, --completion"
  })
  void offersWhatCanStandThere(String words, String expected) {
    assertEquals(List.of(expected), offered(words.split("\\|")));
  }

  @Test
  void offersRunsUnitsAndBatchesOfTheLogbook() throws IOException {
    Path csv = folder.resolve("two.csv");
    Files.writeString(
        csv,
        "unit,batch,range,nominal_A,current_A\n"
            + "U1,B7,1mA,1e-3,1.00001e-3\n"
            + "U2,B8,1mA,1e-3,0.9999e-3\n");
    String book = folder.resolve("two.db").toString();
    assertEquals(0, Spoken.by("import", csv.toString(), "--logbook", book).code());
    assertEquals(List.of("2", "1"), offered("analyze", "--logbook", book, ""));
    assertEquals(List.of("2", "1"), offered("compare", "--logbook", book, "1", ""));
    assertEquals(List.of("U2", "U1"), offered("runs", "--logbook", book, "--unit", ""));
    assertEquals(List.of("B7"), offered("compare", "--logbook", book, "--batch", "B7"));
  }

  @Test
  void aLogbookThatIsNoneOffersNothing() throws IOException {
    Path none = Files.writeString(folder.resolve("none.db"), "no logbook");
    assertEquals(List.of(), offered("analyze", "--logbook", none.toString(), ""));
    assertEquals(List.of(), offered("nothing of ours", ""));
  }

  private String printed(String shell, String calls) throws IOException, InterruptedException {
    Path script = folder.resolve("completion");
    Files.writeString(script, Spoken.by("--completion", shell).out());
    String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();
    String command =
        "'%s' -cp '%s' millrace.cli.Main".formatted(java, System.getProperty("java.class.path"));
    Path program = folder.resolve("millrace");
    Files.writeString(program, "#!/bin/sh\nexec " + command + " \"$@\"\n");
    assertTrue(program.toFile().setExecutable(true));
    Process process =
        new ProcessBuilder(shell, "-c", calls.formatted(script, program))
            .redirectErrorStream(true)
            .start();
    process.getOutputStream().close();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    process.waitFor();
    return said;
  }

  private static List<String> sorted(String said) {
    return Stream.of(said.split("\\s+")).filter(w -> !w.isEmpty()).sorted().toList();
  }

  @Test
  void bashTakesIt() throws IOException, InterruptedException {
    Needs.program("bash");
    String said =
        printed(
            "bash",
            "source '%s'; COMP_WORDS=('%s' bench t); COMP_CWORD=2; _millrace; echo"
                + " \"${COMPREPLY[@]}\"");
    assertEquals(Arrays.asList("talk", "try"), sorted(said), said);
  }

  @Test
  void fishTakesIt() throws IOException, InterruptedException {
    Needs.program("fish");
    String said =
        printed(
            "fish",
            "source '%s'; set -x PATH (dirname '%s') $PATH; complete -C 'millrace bench t'");
    assertTrue(said.contains("talk\t") && said.contains("try\t"), said);
  }

  /** The completion system of zsh wants a terminal; its function is called with words of ours. */
  @Test
  void zshTakesIt() throws IOException, InterruptedException {
    Needs.program("zsh");
    String said =
        printed(
            "zsh",
            "compdef() { : }; compadd() { print -r -- ${(P)@[-1]} }; source '%s'; words=('%s' bench"
                + " t); CURRENT=3; _millrace");
    assertEquals(List.of("talk", "try"), sorted(said), said);
  }
}
