// SPDX-License-Identifier: Apache-2.0
package millrace.cli.completion;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import millrace.fault.MillraceException;
import picocli.CommandLine;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;

/**
 * The completions at the tab key: commands, options, files, runs, units, batches, instruments. Each
 * candidate may have a description after a tab. Single-threaded.
 */
public final class TabCompletion {
  private final CommandSpec command;
  private final Map<String, String> given = new TreeMap<>();
  private final List<String> positional = new ArrayList<>();
  private Optional<OptionSpec> pending = Optional.empty();

  private TabCompletion(CommandSpec command, List<String> before) {
    this.command = command;
    before.forEach(this::take);
  }

  /**
   * The candidates.
   *
   * @param line a command, with those below it
   * @param words the words after its name; the last one is incomplete and may be empty
   * @return one line each, in order
   */
  public static List<String> of(CommandLine line, List<String> words) {
    CommandLine at = line;
    int from = 0;
    while (from < words.size() - 1 && at.getSubcommands().containsKey(words.get(from))) {
      at = at.getSubcommands().get(words.get(from++));
    }
    String typed = words.isEmpty() ? "" : words.get(words.size() - 1);
    List<String> before = words.isEmpty() ? List.of() : words.subList(from, words.size() - 1);
    return new TabCompletion(at.getCommandSpec(), before).candidates(typed);
  }

  /** Separates the earlier words into options with their values, and words. */
  private void take(String word) {
    if (pending.isPresent()) {
      given.put(pending.get().longestName(), word);
      pending = Optional.empty();
    } else if (word.startsWith("-")) {
      pending = Optional.ofNullable(command.findOption(word)).filter(o -> o.arity().max() > 0);
    } else {
      positional.add(word);
    }
  }

  private List<String> candidates(String typed) {
    List<String> all = new ArrayList<>();
    if (pending.isPresent()) {
      all.addAll(values(pending.get(), typed));
    } else if (typed.startsWith("-")) {
      command.options().stream()
          .filter(o -> !o.hidden())
          .forEach(o -> all.add(o.longestName() + "\t" + about(o)));
    } else {
      if (positional.isEmpty()) {
        command.subcommands().forEach((name, sub) -> all.add(name + "\t" + about(sub)));
      }
      next().ifPresent(arg -> all.addAll(values(arg, typed)));
    }
    return all.stream().filter(c -> c.startsWith(typed)).distinct().toList();
  }

  /** The meaning of the next word. */
  private Optional<PositionalParamSpec> next() {
    int at = positional.size();
    return command.positionalParameters().stream()
        .filter(p -> !p.hidden() && p.index().contains(at))
        .findFirst();
  }

  private static String about(OptionSpec option) {
    return String.join(" ", option.description());
  }

  private static String about(CommandLine sub) {
    String all = String.join(" ", sub.getCommandSpec().usageMessage().description());
    int end = all.indexOf(". ");
    return end < 0 ? all : all.substring(0, end + 1);
  }

  /** An unreadable file offers nothing; the command itself reports the reason. */
  private List<String> values(ArgSpec arg, String typed) {
    Class<?> type = arg.auxiliaryTypes()[0];
    KnownNames known = new KnownNames(Path.of(given.getOrDefault("--logbook", "millrace.db")));
    String name = arg instanceof OptionSpec o ? o.longestName() : arg.paramLabel();
    try {
      if (arg.typeInfo().isEnum()) {
        return arg.typeInfo().getEnumConstantNames();
      } else if (type == Path.class || arg.type() == Path.class) {
        return FileNameCompletion.of(typed, FileNameCompletion.kindOf(name));
      }
      return switch (name) {
        case "RUN", "--like", "--resume" -> known.runs();
        case "--unit", "SN" -> known.units();
        case "--batch" -> known.batches();
        case "--tag" -> known.tags();
        case "--operator" -> known.operators();
        case "NAME" -> instruments();
        default -> List.of();
      };
    } catch (MillraceException e) {
      return List.of();
    }
  }

  private List<String> instruments() {
    return Optional.ofNullable(given.get("--bench"))
        .map(file -> KnownNames.instruments(Path.of(file)))
        .orElse(List.of());
  }
}
