// SPDX-License-Identifier: Apache-2.0
package millrace.cli.bench;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.Callable;
import millrace.bench.BenchFile;
import millrace.bench.check.BenchCheckFinding;
import millrace.bench.check.RoleTrial;
import millrace.bench.role.BenchOperator;
import millrace.cli.option.BenchOptions;
import millrace.cli.option.LinkRecordingOptions;
import millrace.datasheet.DatasheetFile;
import millrace.link.LinkOpener;
import millrace.link.LinkRecorder;
import millrace.link.LinkRecording;
import millrace.night.BenchSession;
import millrace.terminal.Console;
import millrace.terminal.Questions;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Tests the roles of one instrument, for the author of its driver. */
@Command(
    name = "try",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description = {
      "Makes the bench safe, exercises each role of one instrument, and shows what was asked, what"
          + " came back and what did not match; then makes the bench safe again."
    },
    footer = {
      "",
      "Exit code: 0 all good, 1 something did not match, 3 no answer, 7 something was not tried.",
      "",
      "Example:",
      "  millrace bench try dmm1 --bench bench.yaml"
    })
final class BenchTryCommand implements Callable<Integer> {
  private final Console console;
  private final List<String> said = new ArrayList<>();

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "NAME", description = "The instrument's name in the bench file.")
  private String name = "";

  @Mixin private BenchOptions bench = new BenchOptions();
  @Mixin private LinkRecordingOptions links = new LinkRecordingOptions();

  @Option(
      names = "--datasheet",
      paramLabel = "FILE",
      description = "Names the ranges that a selector is set to.")
  private Optional<Path> datasheet = Optional.empty();

  BenchTryCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    bench.refuseNone(spec.commandLine());
    links.check(spec.commandLine(), bench.simulated());
    Collection<String> ranges =
        datasheet.map(d -> DatasheetFile.read(d).ranges().keySet()).orElse(Set.of());
    try (LinkRecordingOptions recording = links;
        BenchSession setting = bench.openAny(person(), where(recording))) {
      BenchFile file = setting.bench().file();
      BenchFile.Entry entry = BenchTalkCommand.entry(file, name);
      BenchCheckCommand.refuseUnsaid(setting.bench());
      setting.hold();
      SafeCommand.refuseUnsafe(setting.bench().makeSafe());
      said.clear();
      try {
        RoleTrial trial = new RoleTrial(file, ranges, this::tell);
        List<BenchCheckFinding> found = trial.of(entry, setting.bench().instruments().get(name));
        return BenchCheckCommand.code(found).number();
      } finally {
        SafeCommand.refuseUnsafe(setting.bench().makeSafe());
      }
    }
  }

  private BenchOperator person() {
    return console.interactive() ? new Questions(console, false).person("") : BenchOperator.NOBODY;
  }

  /** A conversation that is recorded or replayed is not shown as well. */
  private BenchSession.Links where(LinkRecordingOptions recording) {
    return recording.plain()
        ? new BenchSession.Links(LinkOpener.recording(address -> new Ear()), false)
        : recording.links();
  }

  /** Listens to the conversation, to show it beside the results. */
  private final class Ear implements LinkRecorder {
    @Override
    public void sent(String bytes) {
      hear("    asked    " + LinkRecording.escaped(bytes));
    }

    @Override
    public void received(String bytes) {
      hear("    answered " + LinkRecording.escaped(bytes));
    }

    @Override
    public void dropped(String bytes) {
      hear("    unasked  " + LinkRecording.escaped(bytes));
    }

    private void hear(String line) {
      synchronized (said) {
        said.add(line);
      }
    }
  }

  private void tell(BenchCheckFinding finding) {
    console.print("%-9s  %s: %s".formatted(finding.state().text(), finding.what(), finding.text()));
    synchronized (said) {
      said.forEach(console::print);
      said.clear();
    }
  }
}
