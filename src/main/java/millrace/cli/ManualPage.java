// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import java.util.Arrays;
import java.util.stream.Collectors;
import picocli.CommandLine;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;

/**
 * The manual page of an installed Millrace, from the same models as {@code --help}: every command
 * with its arguments, options and examples, in the macros of man(7).
 */
final class ManualPage {
  private final StringBuilder text = new StringBuilder();

  private ManualPage() {}

  /** The page of a command line with all its commands. */
  static String of(CommandLine line) {
    ManualPage page = new ManualPage();
    CommandSpec root = line.getCommandSpec();
    String[] about = root.usageMessage().description();
    page.line(".TH MILLRACE 1 \"\" \"" + RootCommand.VERSION + "\"");
    page.line(".SH NAME");
    page.line("millrace \\- characterizes precision DC current sources");
    page.line(".SH SYNOPSIS");
    page.line("\\fBmillrace\\fR \\fICOMMAND\\fR [\\fIOPTION\\fR...]");
    page.line(".SH DESCRIPTION");
    page.paragraphs(about);
    page.args(root);
    page.line(".SH COMMANDS");
    line.getSubcommands().values().forEach(below -> page.command(below.getCommandSpec()));
    page.examples(root.usageMessage().footer());
    return page.text.toString();
  }

  private void command(CommandSpec spec) {
    line(".SS " + escaped(spec.qualifiedName()));
    paragraphs(spec.usageMessage().description());
    args(spec);
    examples(spec.usageMessage().footer());
    spec.subcommands().values().forEach(below -> command(below.getCommandSpec()));
  }

  private void args(CommandSpec spec) {
    for (PositionalParamSpec word : spec.positionalParameters()) {
      if (!word.hidden()) {
        entry("\\fI" + escaped(word.paramLabel()) + "\\fR", word);
      }
    }
    for (OptionSpec option : spec.options()) {
      if (!option.hidden()) {
        String names =
            Arrays.stream(option.names())
                .map(name -> "\\fB" + escaped(name) + "\\fR")
                .collect(Collectors.joining(", "));
        boolean value = option.arity().max() > 0;
        entry(value ? names + " \\fI" + escaped(option.paramLabel()) + "\\fR" : names, option);
      }
    }
  }

  private void entry(String head, ArgSpec arg) {
    line(".TP");
    line(head);
    line(sentence(String.join(" ", arg.description())));
  }

  private void paragraphs(String[] all) {
    for (String each : all) {
      line(".PP");
      line(sentence(each.replace("%n", " ").replace("%%", "%")));
    }
  }

  /** The lines below the options keep their ends. */
  private void examples(String[] lines) {
    line(".PP");
    line(".nf");
    Arrays.stream(lines).map(l -> l.replace("%%", "%")).forEach(l -> line(sentence(l)));
    line(".fi");
  }

  /** A line that begins with one of these would be taken for a macro. */
  private static String sentence(String text) {
    String plain = escaped(text);
    return plain.startsWith(".") || plain.startsWith("'") ? "\\&" + plain : plain;
  }

  private static String escaped(String text) {
    return text.replace("\\", "\\e").replace("-", "\\-");
  }

  private void line(String line) {
    text.append(line).append('\n');
  }
}
