// SPDX-License-Identifier: Apache-2.0
package millrace.cli.bench;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import millrace.bench.Bench;
import millrace.bench.BenchLock;
import millrace.bench.role.BenchOperator;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.BenchOptions;
import millrace.fault.UnsafeBenchException;
import millrace.lock.LockHolder;
import millrace.night.BenchSession;
import millrace.run.control.BenchTakeover;
import millrace.terminal.Console;
import millrace.terminal.Questions;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** Makes a bench safe by hand. */
@Command(
    name = "safe",
    mixinStandardHelpOptions = true,
    description = {
      "Puts every instrument of a bench in its safe state, in the order of the bench file, and"
          + " reports the outcome of each. A run that uses the bench is asked to stop; if it does"
          + " not within 2 s, its process is ended.",
      "The exit code is 8 if one could not be confirmed: switch that one off by hand."
    },
    footer = {"", "Example:", "  millrace safe --bench bench.yaml"})
public final class SafeCommand implements Callable<Integer> {
  private final Console console;

  @Spec private CommandSpec spec;

  @Mixin private BenchOptions bench = new BenchOptions();

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public SafeCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    bench.refuseSpeed(spec.commandLine());
    if (bench.file().isEmpty()) {
      throw new CommandLine.ParameterException(
          spec.commandLine(), "no bench; expected --bench FILE");
    }
    try (BenchSession setting = bench.openFile(person(), BenchSession.Links.TO_INSTRUMENTS)) {
      Optional<BenchLock> lock = handedOver(setting);
      try {
        List<Bench.Safety> all = setting.bench().makeSafe();
        console.print(verdict(all, lock.isPresent()));
        all.forEach(this::tell);
        refuseUnsafe(all);
        refuseHeld(setting, lock);
      } finally {
        lock.ifPresent(BenchLock::close);
      }
    }
    return ExitCode.DONE.number();
  }

  /** The overall answer first, then the result of each instrument. */
  private static String verdict(List<Bench.Safety> all, boolean free) {
    if (all.stream().anyMatch(s -> s.trouble().isPresent())) {
      return "NOT CONFIRMED TO BE SAFE: see below, and switch off by hand now";
    }
    return free
        ? "the bench is in its safe state"
        : "MADE SAFE, BUT SOMETHING ELSE STILL DRIVES IT: switch off by hand now";
  }

  /**
   * Stops the process that drives the bench first; otherwise the bench would be safe only for a
   * moment.
   */
  private Optional<BenchLock> handedOver(BenchSession setting) {
    return new BenchTakeover(setting.bench().file(), BenchLock.usualFolder(), this::say).take();
  }

  private void say(String text) {
    console.error("millrace: " + text);
  }

  private static void refuseHeld(BenchSession setting, Optional<BenchLock> lock) {
    if (lock.isPresent()) {
      return;
    }
    String who =
        BenchLock.holders(setting.bench().file(), BenchLock.usualFolder()).stream()
            .map(LockHolder::who)
            .collect(Collectors.joining(" and "));
    throw new UnsafeBenchException(
        "every instrument was sent its safe commands, but the bench is still in use by %s, which could not be ended and may switch it on again. End it, then say 'safe' again; switch off by hand now."
            .formatted(who.isEmpty() ? "another Millrace" : who));
  }

  private BenchOperator person() {
    return console.interactive() ? new Questions(console, false).person("") : BenchOperator.NOBODY;
  }

  private void tell(Bench.Safety one) {
    console.print(
        "%-16s  %s"
            .formatted(
                one.instrument(),
                one.trouble()
                    .map(t -> "NOT SAFE: " + t)
                    .orElseGet(() -> one.how().orElseThrow().text())));
  }

  /** Lists the instruments that must be switched off by hand; nothing if all are safe. */
  static void refuseUnsafe(List<Bench.Safety> all) {
    List<String> unsafe =
        all.stream().filter(s -> s.trouble().isPresent()).map(Bench.Safety::instrument).toList();
    if (!unsafe.isEmpty()) {
      throw new UnsafeBenchException(
          "the safe state could not be confirmed for '%s'. Switch these off by hand now."
              .formatted(String.join("', '", unsafe)));
    }
  }
}
