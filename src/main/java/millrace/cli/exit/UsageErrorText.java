// SPDX-License-Identifier: Apache-2.0
package millrace.cli.exit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.TreeSet;
import millrace.document.FileMessageText;
import picocli.CommandLine.MissingParameterException;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.OverwrittenOptionException;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.UnmatchedArgumentException;

/**
 * Converts an error of the command line parser into words of Millrace: what was found, what was
 * expected, what to do.
 */
final class UsageErrorText {
  /** The beginning of a parser message about a value; messages of a command begin otherwise. */
  private static final String OF_A_VALUE = "Invalid value for";

  private static final String NO_VALUE = "Missing required parameter for option";
  private static final String NO_COMMAND = "Missing required subcommand";

  private UsageErrorText() {}

  /** Makes one or two sentences. */
  static String of(ParameterException e) {
    String said = String.valueOf(e.getMessage());
    if (e instanceof UnmatchedArgumentException unmatched) {
      return unmatched(unmatched);
    } else if (e instanceof MissingParameterException missing && !missing.getMissing().isEmpty()) {
      return missing(missing.getMissing(), said.startsWith(NO_VALUE));
    } else if (e instanceof OverwrittenOptionException twice) {
      return "%s is given twice; expected once. Leave one out."
          .formatted(name(twice.getOverwritten()));
    } else if (said.startsWith(NO_COMMAND)) {
      return "'%s' alone does nothing; expected one of its commands behind it: %s."
          .formatted(qualified(e), FileMessageText.oneOf(commands(e)));
    } else if (said.startsWith(OF_A_VALUE) && e.getArgSpec() != null) {
      return value(e, said);
    }
    return said;
  }

  private static String qualified(ParameterException e) {
    return e.getCommandLine().getCommandSpec().qualifiedName();
  }

  private static Collection<String> commands(ParameterException e) {
    return e.getCommandLine().getSubcommands().keySet();
  }

  private static String unmatched(UnmatchedArgumentException e) {
    String word = e.getUnmatched().get(0);
    if (e.isUnknownOption()) {
      String option = word.split("=", 2)[0];
      TreeSet<String> known =
          new TreeSet<>(e.getCommandLine().getCommandSpec().optionsMap().keySet());
      known.removeIf(name -> name.length() == 2);
      return ("there is no option %s of '%s'; expected one of those that it has. "
              + FileMessageText.didYouMean(option, known))
          .formatted(FileMessageText.quoted(option), qualified(e))
          .strip();
    }
    Collection<String> commands = commands(e);
    if (!commands.isEmpty()) {
      return "there is no command %s of '%s'; expected %s. %s"
          .formatted(
              FileMessageText.quoted(word),
              qualified(e),
              FileMessageText.oneOf(commands),
              FileMessageText.didYouMean(word, commands))
          .strip();
    }
    return "%s is one word too many for '%s'; expected none there. Leave it out, or put words that belong together in quotes."
        .formatted(FileMessageText.quoted(word), qualified(e));
  }

  private static String missing(List<ArgSpec> missing, boolean value) {
    ArgSpec first = missing.get(0);
    if (value) {
      return "nothing stands behind %s; expected %s: %s"
          .formatted(name(first), first.paramLabel(), about(first));
    }
    List<String> wanted = new ArrayList<>();
    for (ArgSpec each : missing) {
      wanted.add(each.isOption() ? name(each) + " " + each.paramLabel() : each.paramLabel());
    }
    return "%s missing; expected %s: %s"
        .formatted(
            String.join(", ", wanted) + (wanted.size() == 1 ? " is" : " are"),
            wanted.get(0),
            about(first));
  }

  private static String about(ArgSpec arg) {
    return arg.typeInfo().isEnum()
        ? FileMessageText.oneOf(arg.typeInfo().getEnumConstantNames()) + "."
        : String.join(" ", arg.description());
  }

  private static String name(ArgSpec arg) {
    return arg instanceof OptionSpec option ? option.longestName() : arg.paramLabel();
  }

  /** The message of a converter of Millrace, or the allowed values. */
  private static String value(ParameterException e, String said) {
    ArgSpec arg = e.getArgSpec();
    String value = String.valueOf(e.getValue());
    int ours = said.indexOf("; expected ");
    if (ours >= 0) {
      return name(arg) + said.substring(said.indexOf(": "));
    } else if (arg.typeInfo().isEnum()) {
      List<String> words = arg.typeInfo().getEnumConstantNames();
      return "%s: %s; expected %s. %s"
          .formatted(
              name(arg),
              FileMessageText.quoted(value),
              FileMessageText.oneOf(words),
              FileMessageText.didYouMean(value, words))
          .strip();
    } else if (arg.typeInfo().isBoolean()) {
      return "%s: %s; expected nothing behind it. Say '%s' alone."
          .formatted(name(arg), FileMessageText.quoted(value), name(arg));
    }
    return "%s: %s cannot be used; expected %s: %s"
        .formatted(
            name(arg),
            FileMessageText.quoted(value),
            arg.paramLabel(),
            String.join(" ", Arrays.asList(arg.description())));
  }
}
