// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import millrace.Needs;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * The guide, followed to the letter by somebody who knows nothing: every command is typed in the
 * order of the page, every file saved as it is shown, every question answered; what the page shows
 * of outputs and exit codes must come.
 */
class GuideIT {
  private static final Path PAGE = Path.of("src/site/guide/guide.md");
  private static final String METERS = "Which meter is enough?";

  @TempDir private Path home;

  /** A block between fences: its kind, the name behind it, its lines. */
  private record Block(String kind, String name, List<String> lines) {}

  /** A section that has commands. */
  private record Section(String heading, List<Block> blocks) {
    @Override
    public String toString() {
      return heading;
    }
  }

  static List<Section> sections() throws IOException {
    return notEmpty(
        Arrays.stream(Files.readString(PAGE).split("(?m)^## "))
            .skip(1)
            .map(s -> new Section(s.substring(0, s.indexOf('\n')), blocks(s)))
            .filter(s -> !s.blocks().isEmpty())
            .toList());
  }

  private static List<Block> blocks(String text) {
    List<Block> blocks = new ArrayList<>();
    Optional<Block> open = Optional.empty();
    for (String line : text.lines().toList()) {
      if (!line.startsWith("```")) {
        open.ifPresent(b -> b.lines().add(line));
      } else if (open.isPresent()) {
        blocks.add(open.get());
        open = Optional.empty();
      } else {
        String[] named = line.substring(3).split(" ", 2);
        open =
            Optional.of(new Block(named[0], named.length < 2 ? "" : named[1], new ArrayList<>()));
      }
    }
    return blocks;
  }

  @ParameterizedTest
  @MethodSource("sections")
  @Timeout(value = 10, unit = TimeUnit.MINUTES, threadMode = Timeout.ThreadMode.SEPARATE_THREAD)
  void whatAPersonTypesDoesWhatThePageShows(Section section) throws Exception {
    Needs.program("bash");
    Block first = blocks(Files.readString(PAGE)).get(0);
    try (GuideSession session = new GuideSession(home)) {
      typed(session, first, Optional.empty());
      for (int i = 0; i < section.blocks().size(); i++) {
        Optional<Block> next =
            i + 1 < section.blocks().size()
                ? Optional.of(section.blocks().get(i + 1))
                : Optional.empty();
        done(session, section.blocks().get(i), next);
      }
      if (section.heading().equals(METERS)) {
        theTableIsWhatIsPrinted(session);
      }
    }
  }

  private void done(GuideSession session, Block block, Optional<Block> next) throws Exception {
    switch (block.kind()) {
      case "console" -> typed(session, block, next);
      case "file" -> saved(session, block);
      case "output" -> said(block.lines(), session);
      case "dialogue" -> {} // typed with the command before it
      case "line" ->
          assertTrue(
              Files.readString(Path.of("examples/cupboard.bench.yaml"))
                  .contains(block.lines().get(0).replaceAll("\\{.*", "{range: 2 mA,")),
              block.lines().get(0));
      case "second-terminal" ->
          session.beside(
              block.lines().get(0).substring(2), block.lines().get(block.lines().size() - 1));
      default -> throw new AssertionError("a block of no known kind: " + block);
    }
  }

  /** What comes with Millrace is shown as it is. */
  private static void saved(GuideSession session, Block block) throws IOException {
    String text = String.join("\n", block.lines()) + "\n";
    Path shipped = Path.of("examples").resolve(block.name());
    if (Files.exists(shipped)) {
      assertEquals(Files.readString(shipped), text);
    }
    session.save(block.name(), text);
  }

  private static void typed(GuideSession session, Block block, Optional<Block> next)
      throws Exception {
    List<String> lines = block.lines();
    int from = 0;
    while (from < lines.size()) {
      String command = lines.get(from).substring(2);
      assertTrue(lines.get(from).startsWith("$ "), lines.get(from));
      int to = from + 1;
      while (to < lines.size() && !lines.get(to).startsWith("$ ")) {
        to++;
      }
      List<String> shown = lines.subList(from + 1, to);
      if (command.equals("echo $?")) {
        assertEquals(List.of(String.valueOf(session.code())), shown, session.output());
      } else if (to == lines.size() && next.filter(b -> b.kind().equals("dialogue")).isPresent()) {
        session.answer(command, answers(next.get()));
      } else {
        session.type(command);
        said(shown, session);
      }
      from = to;
    }
  }

  private static List<GuideSession.Answer> answers(Block dialogue) {
    List<GuideSession.Answer> answers = new ArrayList<>();
    StringBuilder question = new StringBuilder();
    for (String line : dialogue.lines()) {
      if (line.startsWith(">")) {
        answers.add(new GuideSession.Answer(question.toString(), line.substring(1).strip()));
        question.setLength(0);
      } else {
        question.append(line).append('\n');
      }
    }
    return answers;
  }

  private static void said(List<String> shown, GuideSession session) {
    assertEquals("", ShownLines.missing(shown, session.output()), () -> session.output());
  }

  /** The table of the page against the output, with the meter of the cupboard as it was. */
  private void theTableIsWhatIsPrinted(GuideSession session) throws Exception {
    session.type("mv cupboard.bench.yaml.bak cupboard.bench.yaml");
    session.type("millrace plan meters lx-1.datasheet.yaml --bench cupboard.bench.yaml");
    List<String> came = session.output().lines().map(GuideSession::words).toList();
    List<String[]> rows = rows();
    assertEquals(3, rows.size());
    for (String[] row : rows) {
      String begins = GuideSession.words(row[1] + " " + row[2] + " " + row[3]);
      String ends = row[5].strip();
      assertTrue(
          came.stream().anyMatch(l -> ShownLines.fits(begins, l) && l.endsWith(ends)),
          () -> String.join("|", row) + " is not in\n" + session.output());
    }
  }

  private static List<String[]> rows() throws IOException {
    try (Stream<String> lines = Files.lines(PAGE)) {
      return lines
          .filter(l -> l.matches("\\| (current meter|voltmeter|unit thermometer) \\|.*"))
          .map(l -> l.split("\\|"))
          .toList();
    }
  }

  @Test
  void aShownLineMustCome() {
    String output = "one 1\n\ntwo 2.00 mA and more\nthree\n";
    assertEquals("", ShownLines.missing(List.of("one 1", "two 2.1 mA"), output));
    assertEquals("", ShownLines.missing(List.of("one 1", "...", "three"), output));
    assertEquals("three", ShownLines.missing(List.of("one 1", "three"), output));
    assertEquals("one 2", ShownLines.missing(List.of("one 2"), output));
    assertEquals("two 2.5 mA", ShownLines.missing(List.of("two 2.5 mA"), output));
  }
}
