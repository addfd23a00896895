// SPDX-License-Identifier: Apache-2.0
package millrace.cli.result;

import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.IssuerOptions;
import millrace.cli.option.RunSourceOption;
import millrace.cli.option.VerifiedRun;
import millrace.document.file.AtomicFile;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.report.frame.HtmlPageFrame;
import millrace.report.label.LabelSize;
import millrace.report.label.LabelText;
import millrace.report.label.UnitLabel;
import millrace.report.paper.PdfPage;
import millrace.terminal.Console;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Writes the label of a unit. */
@Command(
    name = "label",
    mixinStandardHelpOptions = true,
    description = {
      "Writes the label of a unit as SVG or PDF: serial number, outcome, day of the test, the day"
          + " when it is due where its datasheet says 'recalibrate', and a QR code of run and"
          + " digest.",
      "Only of a run that has ended, fits its digest and seal, and was not simulated, of a unit"
          + " that was not repaired since."
    },
    footer = {
      "",
      "Examples:",
      "  millrace label 12",
      "  millrace label 12 --size 50x25mm -o fx3-0042-label.pdf"
    })
public final class LabelCommand implements Callable<Integer> {
  private final Console console;

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "RUN", description = "A run, by number or UUID.")
  private String run = "";

  @Option(
      names = "--size",
      paramLabel = "WxHmm",
      defaultValue = "62x29mm",
      description =
          "Width and height (default: ${DEFAULT-VALUE}); the code stands above the words"
              + " where it is not wide.")
  private String size = "";

  @Option(
      names = "-o",
      paramLabel = "FILE",
      description = "Where it goes, a name that ends in .svg or .pdf; label-RUN.svg unless given.")
  private Optional<Path> file = Optional.empty();

  @Option(
      names = "--laboratory",
      paramLabel = "FILE",
      description = "Who tested; laboratory.yaml in this folder, where there is one, unless given.")
  private Optional<Path> laboratory = Optional.empty();

  @Mixin private RunSourceOption source = new RunSourceOption();

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public LabelCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    LabelSize wanted = size();
    String ending = file.map(f -> f.toString().toLowerCase(Locale.ROOT)).orElse(".svg");
    if (!ending.endsWith(".svg") && !ending.endsWith(".pdf")) {
      throw refusal("-o " + file.get() + " ends in neither; expected .svg or .pdf");
    }
    try (Logbook book = source.readOnly()) {
      RunReader reader = book.reader(book.find(run).id());
      VerifiedRun.requireReal(reader.summary(), "a label is stuck on one");
      VerifiedRun.requireNoRepairSince(reader);
      VerifiedRun.require(book, reader.summary(), "a label");
      Assessment assessment = Assessor.assess(reader);
      LabelText text = LabelText.of(assessment, reader, IssuerOptions.whereNamed(laboratory));
      UnitLabel label = UnitLabel.of(text, wanted);
      Path out = file.orElseGet(() -> Path.of("label-%s.svg".formatted(reader.summary().id())));
      if (ending.endsWith(".pdf")) {
        AtomicFile.write(out, "-o", PdfPage.of(label::page));
      } else {
        HtmlPageFrame.write(out, label::svg);
      }
      console.print(out.toString());
      console.error("%s: %s".formatted(text.serial(), text.outcome()));
    }
    return ExitCode.DONE.number();
  }

  private LabelSize size() {
    try {
      return LabelSize.parse(size);
    } catch (IllegalArgumentException e) {
      throw refusal("--size: " + e.getMessage());
    }
  }

  private CommandLine.ParameterException refusal(String words) {
    return new CommandLine.ParameterException(spec.commandLine(), words);
  }
}
