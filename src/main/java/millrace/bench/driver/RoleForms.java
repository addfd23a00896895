// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import com.google.re2j.Pattern;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import millrace.bench.driver.DriverFile.RoleCommands;
import millrace.bench.role.MeterRange;
import millrace.bench.role.RoleName;
import millrace.document.FileMessageText;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
import millrace.quantity.Dimension;

/** How a role is written in a driver file whose settings are known. */
final class RoleForms {
  private final Map<String, Dimension> words;

  RoleForms(Map<String, Dimension> words) {
    this.words = new LinkedHashMap<>(words);
  }

  private Map<String, Dimension> with(Map<String, Dimension> more) {
    Map<String, Dimension> known = new LinkedHashMap<>(words);
    known.putAll(more);
    return known;
  }

  YamlForm<RoleCommands> role(RoleName role, RoleGrammar.Role grammar) {
    YamlMapForm.Builder map = YamlMapForm.of("the role " + role.text());
    Map<String, Key<Optional<List<Exchange>>>> actions = actionKeys(map, grammar);
    Map<String, Key<Optional<NumericQuery>>> numbers = new LinkedHashMap<>();
    grammar
        .numbers()
        .forEach(
            (number, kind) ->
                numbers.put(number, map.optional(number, question(kind), "asks for a number")));
    Key<Map<String, Exchange.Setting>> readBack =
        map.optional(
            "read back",
            YamlForms.named("names of settings", readBack()),
            Map.of(),
            "settings that are stored with every point");
    Key<List<MeterRange>> ranges =
        map.optional("ranges", YamlForms.list(range(grammar), 1), List.of(), "ranges of a meter");
    Function<YamlMapForm.Values, Optional<Exchange.Door>> door =
        ofChamber(map, role, "door", door(), "asks whether its door is open");
    Function<YamlMapForm.Values, Optional<Exchange.Alarm>> alarm =
        ofChamber(map, role, "alarm", alarm(), "asks whether it has an alarm");
    return map.reads(
        v -> {
          Map<String, List<Exchange>> said = new LinkedHashMap<>();
          actions.forEach((action, key) -> v.get(key).ifPresent(e -> said.put(action, e)));
          Map<String, NumericQuery> asked = new LinkedHashMap<>();
          numbers.forEach((number, key) -> v.get(key).ifPresent(q -> asked.put(number, q)));
          requireReading(role, grammar, asked);
          requireRanges(role, grammar, v.get(ranges));
          return new RoleCommands(
              said, asked, v.get(readBack), v.get(ranges), door.apply(v), alarm.apply(v));
        });
  }

  private static <T> Function<YamlMapForm.Values, Optional<T>> ofChamber(
      YamlMapForm.Builder map, RoleName role, String name, YamlForm<T> form, String about) {
    if (role != RoleName.CHAMBER) {
      return v -> Optional.empty();
    }
    Key<Optional<T>> key = map.optional(name, form, about);
    return v -> v.get(key);
  }

  private YamlForm<Exchange.Alarm> alarm() {
    YamlMapForm.Builder map = YamlMapForm.of("an alarm");
    Key<CommandTemplate> ask =
        map.required("ask", CommandTemplateForms.command(words), "the question");
    Key<Pattern> none =
        map.required("none", YamlForms.pattern(), "what the reply matches if it has none");
    return map.reads(v -> new Exchange.Alarm(v.get(ask), v.get(none)));
  }

  private YamlForm<Exchange.Door> door() {
    YamlMapForm.Builder map = YamlMapForm.of("a door");
    Key<CommandTemplate> ask =
        map.required("ask", CommandTemplateForms.command(words), "the question");
    Key<Pattern> open =
        map.required("open", YamlForms.pattern(), "what the reply matches if it is");
    Key<Pattern> closed =
        map.required("closed", YamlForms.pattern(), "what the reply matches if it is not");
    return map.reads(v -> new Exchange.Door(v.get(ask), v.get(open), v.get(closed)));
  }

  private Map<String, Key<Optional<List<Exchange>>>> actionKeys(
      YamlMapForm.Builder map, RoleGrammar.Role grammar) {
    Map<String, Key<Optional<List<Exchange>>>> actions = new LinkedHashMap<>();
    grammar
        .required()
        .forEach(
            (action, args) -> {
              YamlForm<Optional<List<Exchange>>> form =
                  YamlForms.map(exchanges(args), Optional::of);
              actions.put(action, map.required(action, form, "said to " + action));
            });
    grammar
        .optional()
        .forEach(
            (action, args) ->
                actions.put(action, map.optional(action, exchanges(args), "said to " + action)));
    return actions;
  }

  private static void requireReading(
      RoleName role, RoleGrammar.Role grammar, Map<String, NumericQuery> asked) {
    if (grammar.readable() && !asked.containsKey("read")) {
      throw new IllegalArgumentException(
          "the role %s cannot be read; expected 'read: {ask: ...}'".formatted(role.text()));
    }
  }

  private static void requireRanges(
      RoleName role, RoleGrammar.Role grammar, List<MeterRange> ranges) {
    if (grammar.meter() == ranges.isEmpty()) {
      throw new IllegalArgumentException(
          grammar.meter()
              ? "the role %s has no ranges; expected 'ranges: [{full scale: ...}]'"
                  .formatted(role.text())
              : "the role %s has ranges; expected them only for meters".formatted(role.text()));
    }
  }

  private static YamlForm<MeterRange> range(RoleGrammar.Role grammar) {
    Dimension kind = grammar.numbers().getOrDefault("read", Dimension.NUMBER);
    YamlMapForm.Builder map = YamlMapForm.of("a meter range");
    Key<Double> full = map.required("full scale", YamlForms.quantity(kind), "what it is called by");
    Key<Optional<Double>> highest =
        map.optional(
            "highest", YamlForms.quantity(kind), "highest reading; default the full scale");
    Key<Optional<Double>> resolution =
        map.optional("resolution", YamlForms.quantity(kind), "least step of a reading");
    return map.reads(
        v ->
            new MeterRange(
                v.get(full), v.get(highest).orElse(v.get(full)), v.get(resolution).orElse(0.0)));
  }

  private YamlForm<NumericQuery> question(Dimension kind) {
    YamlMapForm.Builder map = YamlMapForm.of("a question for a number");
    return question(
        map, map.required("ask", CommandTemplateForms.command(words), "the question"), kind);
  }

  private YamlForm<NumericQuery> question(
      YamlMapForm.Builder map, Key<CommandTemplate> ask, Dimension kind) {
    QuestionKeys keys = new QuestionKeys(map, ask, kind, words);
    return map.reads(keys::get);
  }

  /** The keys that say how a number is asked for and found in the reply. */
  private static final class QuestionKeys {
    private final Key<CommandTemplate> ask;
    private final Key<Optional<CommandTemplate>> number;
    private final ReplyUnits.Keys units;
    private final Key<ReplyNumberFormat> digits;
    private final ReplyExtent.Keys extent;
    private final Key<Optional<Duration>> within;

    QuestionKeys(
        YamlMapForm.Builder map,
        Key<CommandTemplate> ask,
        Dimension kind,
        Map<String, Dimension> words) {
      this.ask = ask;
      number =
          map.optional(
              "number",
              YamlForms.map(expectation(words), t -> withGroup(t, words)),
              "matches the whole reply and takes the number out of it by its group");
      units = new ReplyUnits.Keys(map, kind);
      digits =
          map.optional(
              "digits",
              YamlForms.choice(ReplyNumberFormat.values(), ReplyNumberFormat::text),
              ReplyNumberFormat.DECIMAL,
              "decimal (default), or hex with negative numbers as two's complement");
      extent = new ReplyExtent.Keys(map);
      within = map.optional("within", YamlForms.span(), "longest wait for the reply");
    }

    NumericQuery get(YamlMapForm.Values v) {
      return new NumericQuery(
          v.get(ask),
          v.get(number),
          units.get(v, v.get(digits)),
          v.get(digits),
          extent.get(v),
          v.get(within));
    }
  }

  private YamlForm<Exchange.Setting> readBack() {
    YamlMapForm.Builder map = YamlMapForm.of("a setting to read back");
    Key<CommandTemplate> ask =
        map.required("ask", CommandTemplateForms.command(words), "the question");
    Key<Optional<Pattern>> take =
        map.optional(
            "setting",
            YamlForms.map(YamlForms.pattern(), p -> withGroup(p, p)),
            "takes it out of the reply by its group; default all");
    return map.reads(v -> new Exchange.Setting(v.get(ask), v.get(take)));
  }

  private static CommandTemplate withGroup(CommandTemplate template, Map<String, Dimension> words) {
    return withGroup(template, template.check(words));
  }

  private static <T> T withGroup(T given, Pattern pattern) {
    if (pattern.groupCount() < 1) {
      throw new IllegalArgumentException(
          "the pattern '%s' has no group; expected one that takes what is wanted, as in '= (.*)'"
              .formatted(pattern.pattern()));
    }
    return given;
  }

  /** What is said in order; a text alone is a command without reply. */
  YamlForm<List<Exchange>> exchanges(Map<String, Dimension> args) {
    Map<String, Dimension> known = with(args);
    YamlForm<Exchange> send =
        YamlForms.map(CommandTemplateForms.command(known), Exchange.Send::new);
    Map<String, YamlForm<? extends Exchange>> kinds = new LinkedHashMap<>();
    kinds.put("ask", ask(known));
    kinds.put("confirm", confirm(args));
    kinds.put("wait", pause());
    return YamlForms.list(YamlForms.scalarOr(send, YamlForms.byKey("an exchange", kinds)), 0);
  }

  private static YamlForm<Exchange> ask(Map<String, Dimension> known) {
    YamlMapForm.Builder map = YamlMapForm.of("a question");
    Key<CommandTemplate> ask =
        map.required("ask", CommandTemplateForms.command(known), "the question");
    Key<Optional<CommandTemplate>> expect =
        map.optional("expect", expectation(known), "what the reply must match");
    Key<Optional<Duration>> until =
        map.optional("repeat for", YamlForms.span(), "repeat until it matches, at most this long");
    Key<Duration> every =
        map.optional(
            "every", YamlForms.span(), Duration.ofMillis(200), "pause between; default 200 ms");
    Key<Optional<Duration>> within =
        map.optional("within", YamlForms.span(), "longest wait for one reply");
    ReplyExtent.Keys extent = new ReplyExtent.Keys(map);
    return map.reads(
        v ->
            new Exchange.Ask(
                v.get(ask),
                v.get(expect),
                v.get(until),
                v.get(every),
                v.get(within),
                extent.get(v)));
  }

  /** A pattern in which braces that hold a name known here are placeholders. */
  private static YamlForm<CommandTemplate> expectation(Map<String, Dimension> known) {
    return YamlForms.map(
        YamlForms.text("a regular expression, with placeholders"),
        text -> {
          boolean named =
              known.keySet().stream()
                  .anyMatch(n -> text.contains("{" + n + "}") || text.contains("{" + n + ":"));
          CommandTemplate template =
              named ? CommandTemplate.parse(text, known) : CommandTemplate.literal(text);
          template.check(known);
          return template;
        });
  }

  private YamlForm<Exchange> confirm(Map<String, Dimension> args) {
    YamlMapForm.Builder map = YamlMapForm.of("a confirmation");
    Key<String> what =
        map.required("confirm", YamlForms.text("a placeholder"), "the placeholder that was set");
    Key<CommandTemplate> ask =
        map.required("by", CommandTemplateForms.command(with(args)), "asks what is set");
    Dimension kind = args.values().stream().findFirst().orElse(Dimension.NUMBER);
    Dimension step = kind == Dimension.TEMPERATURE ? Dimension.TEMPERATURE_DIFFERENCE : kind;
    Key<Double> ratio =
        map.optional(
            "to",
            YamlForms.quantity(Dimension.RATIO),
            1e-5,
            "by how much of it the reply may differ; default 10 ppm");
    Key<Double> absolute =
        map.optional("or to", YamlForms.quantity(step), 0.0, "by how much more; default 0");
    QuestionKeys question = new QuestionKeys(map, ask, kind, words);
    return map.reads(
        v -> {
          if (!args.containsKey(v.get(what))) {
            throw new IllegalArgumentException(
                "nothing called %s is set here; expected %s"
                    .formatted(
                        FileMessageText.quoted(v.get(what)),
                        args.isEmpty()
                            ? "a place where something is set"
                            : FileMessageText.oneOf(args.keySet())));
          }
          return new Exchange.Confirm(v.get(what), question.get(v), v.get(ratio), v.get(absolute));
        });
  }

  private static YamlForm<Exchange> pause() {
    YamlMapForm.Builder map = YamlMapForm.of("a pause");
    Key<Duration> wait = map.required("wait", YamlForms.span(), "how long");
    return map.reads(v -> new Exchange.Pause(v.get(wait)));
  }
}
