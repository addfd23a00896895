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
import millrace.document.Words;
import millrace.document.form.Form;
import millrace.document.form.Forms;
import millrace.document.form.MapForm;
import millrace.document.form.MapForm.Key;
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

  Form<RoleCommands> role(RoleName role, RoleGrammar.Role grammar) {
    MapForm.Builder map = MapForm.of("the role " + role.text());
    Map<String, Key<Optional<List<Exchange>>>> actions = actionKeys(map, grammar);
    Map<String, Key<Optional<Question>>> numbers = new LinkedHashMap<>();
    grammar
        .numbers()
        .forEach(
            (number, kind) ->
                numbers.put(number, map.optional(number, question(kind), "asks for a number")));
    Key<Map<String, Exchange.Setting>> readBack =
        map.optional(
            "read back",
            Forms.named("names of settings", readBack()),
            Map.of(),
            "settings that are stored with every point");
    Key<List<MeterRange>> ranges =
        map.optional("ranges", Forms.list(range(grammar), 1), List.of(), "ranges of a meter");
    Function<MapForm.Values, Optional<Exchange.Door>> door =
        ofChamber(map, role, "door", door(), "asks whether its door is open");
    Function<MapForm.Values, Optional<Exchange.Alarm>> alarm =
        ofChamber(map, role, "alarm", alarm(), "asks whether it has an alarm");
    return map.reads(
        v -> {
          Map<String, List<Exchange>> said = new LinkedHashMap<>();
          actions.forEach((action, key) -> v.get(key).ifPresent(e -> said.put(action, e)));
          Map<String, Question> asked = new LinkedHashMap<>();
          numbers.forEach((number, key) -> v.get(key).ifPresent(q -> asked.put(number, q)));
          requireReading(role, grammar, asked);
          requireRanges(role, grammar, v.get(ranges));
          return new RoleCommands(
              said, asked, v.get(readBack), v.get(ranges), door.apply(v), alarm.apply(v));
        });
  }

  private static <T> Function<MapForm.Values, Optional<T>> ofChamber(
      MapForm.Builder map, RoleName role, String name, Form<T> form, String about) {
    if (role != RoleName.CHAMBER) {
      return v -> Optional.empty();
    }
    Key<Optional<T>> key = map.optional(name, form, about);
    return v -> v.get(key);
  }

  private Form<Exchange.Alarm> alarm() {
    MapForm.Builder map = MapForm.of("an alarm");
    Key<Template> ask = map.required("ask", TemplateForms.command(words), "the question");
    Key<Pattern> none =
        map.required("none", Forms.pattern(), "what the reply matches if it has none");
    return map.reads(v -> new Exchange.Alarm(v.get(ask), v.get(none)));
  }

  private Form<Exchange.Door> door() {
    MapForm.Builder map = MapForm.of("a door");
    Key<Template> ask = map.required("ask", TemplateForms.command(words), "the question");
    Key<Pattern> open = map.required("open", Forms.pattern(), "what the reply matches if it is");
    Key<Pattern> closed =
        map.required("closed", Forms.pattern(), "what the reply matches if it is not");
    return map.reads(v -> new Exchange.Door(v.get(ask), v.get(open), v.get(closed)));
  }

  private Map<String, Key<Optional<List<Exchange>>>> actionKeys(
      MapForm.Builder map, RoleGrammar.Role grammar) {
    Map<String, Key<Optional<List<Exchange>>>> actions = new LinkedHashMap<>();
    grammar
        .required()
        .forEach(
            (action, args) -> {
              Form<Optional<List<Exchange>>> form = Forms.map(exchanges(args), Optional::of);
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
      RoleName role, RoleGrammar.Role grammar, Map<String, Question> asked) {
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

  private static Form<MeterRange> range(RoleGrammar.Role grammar) {
    Dimension kind = grammar.numbers().getOrDefault("read", Dimension.NUMBER);
    MapForm.Builder map = MapForm.of("a meter range");
    Key<Double> full = map.required("full scale", Forms.quantity(kind), "what it is called by");
    Key<Optional<Double>> highest =
        map.optional("highest", Forms.quantity(kind), "highest reading; default the full scale");
    Key<Optional<Double>> resolution =
        map.optional("resolution", Forms.quantity(kind), "least step of a reading");
    return map.reads(
        v ->
            new MeterRange(
                v.get(full), v.get(highest).orElse(v.get(full)), v.get(resolution).orElse(0.0)));
  }

  private Form<Question> question(Dimension kind) {
    MapForm.Builder map = MapForm.of("a question for a number");
    return question(map, map.required("ask", TemplateForms.command(words), "the question"), kind);
  }

  private Form<Question> question(MapForm.Builder map, Key<Template> ask, Dimension kind) {
    QuestionKeys keys = new QuestionKeys(map, ask, kind, words);
    return map.reads(keys::get);
  }

  /** The keys that say how a number is asked for and found in the reply. */
  private static final class QuestionKeys {
    private final Key<Template> ask;
    private final Key<Optional<Template>> number;
    private final ReplyUnits.Keys units;
    private final Key<Digits> digits;
    private final Extent.Keys extent;
    private final Key<Optional<Duration>> within;

    QuestionKeys(
        MapForm.Builder map, Key<Template> ask, Dimension kind, Map<String, Dimension> words) {
      this.ask = ask;
      number =
          map.optional(
              "number",
              Forms.map(expectation(words), t -> withGroup(t, words)),
              "matches the whole reply and takes the number out of it by its group");
      units = new ReplyUnits.Keys(map, kind);
      digits =
          map.optional(
              "digits",
              Forms.choice(Digits.values(), Digits::text),
              Digits.DECIMAL,
              "decimal (default), or hex with negative numbers as two's complement");
      extent = new Extent.Keys(map);
      within = map.optional("within", Forms.span(), "longest wait for the reply");
    }

    Question get(MapForm.Values v) {
      return new Question(
          v.get(ask),
          v.get(number),
          units.get(v, v.get(digits)),
          v.get(digits),
          extent.get(v),
          v.get(within));
    }
  }

  private Form<Exchange.Setting> readBack() {
    MapForm.Builder map = MapForm.of("a setting to read back");
    Key<Template> ask = map.required("ask", TemplateForms.command(words), "the question");
    Key<Optional<Pattern>> take =
        map.optional(
            "setting",
            Forms.map(Forms.pattern(), p -> withGroup(p, p)),
            "takes it out of the reply by its group; default all");
    return map.reads(v -> new Exchange.Setting(v.get(ask), v.get(take)));
  }

  private static Template withGroup(Template template, Map<String, Dimension> words) {
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
  Form<List<Exchange>> exchanges(Map<String, Dimension> args) {
    Map<String, Dimension> known = with(args);
    Form<Exchange> send = Forms.map(TemplateForms.command(known), Exchange.Send::new);
    Map<String, Form<? extends Exchange>> kinds = new LinkedHashMap<>();
    kinds.put("ask", ask(known));
    kinds.put("confirm", confirm(args));
    kinds.put("wait", pause());
    return Forms.list(Forms.scalarOr(send, Forms.byKey("an exchange", kinds)), 0);
  }

  private static Form<Exchange> ask(Map<String, Dimension> known) {
    MapForm.Builder map = MapForm.of("a question");
    Key<Template> ask = map.required("ask", TemplateForms.command(known), "the question");
    Key<Optional<Template>> expect =
        map.optional("expect", expectation(known), "what the reply must match");
    Key<Optional<Duration>> until =
        map.optional("repeat for", Forms.span(), "repeat until it matches, at most this long");
    Key<Duration> every =
        map.optional(
            "every", Forms.span(), Duration.ofMillis(200), "pause between; default 200 ms");
    Key<Optional<Duration>> within =
        map.optional("within", Forms.span(), "longest wait for one reply");
    Extent.Keys extent = new Extent.Keys(map);
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
  private static Form<Template> expectation(Map<String, Dimension> known) {
    return Forms.map(
        Forms.text("a regular expression, with placeholders"),
        text -> {
          boolean named =
              known.keySet().stream()
                  .anyMatch(n -> text.contains("{" + n + "}") || text.contains("{" + n + ":"));
          Template template = named ? Template.parse(text, known) : Template.literal(text);
          template.check(known);
          return template;
        });
  }

  private Form<Exchange> confirm(Map<String, Dimension> args) {
    MapForm.Builder map = MapForm.of("a confirmation");
    Key<String> what =
        map.required("confirm", Forms.text("a placeholder"), "the placeholder that was set");
    Key<Template> ask = map.required("by", TemplateForms.command(with(args)), "asks what is set");
    Dimension kind = args.values().stream().findFirst().orElse(Dimension.NUMBER);
    Dimension step = kind == Dimension.TEMPERATURE ? Dimension.TEMPERATURE_DIFFERENCE : kind;
    Key<Double> ratio =
        map.optional(
            "to",
            Forms.quantity(Dimension.RATIO),
            1e-5,
            "by how much of it the reply may differ; default 10 ppm");
    Key<Double> absolute =
        map.optional("or to", Forms.quantity(step), 0.0, "by how much more; default 0");
    QuestionKeys question = new QuestionKeys(map, ask, kind, words);
    return map.reads(
        v -> {
          if (!args.containsKey(v.get(what))) {
            throw new IllegalArgumentException(
                "nothing called %s is set here; expected %s"
                    .formatted(
                        Words.quoted(v.get(what)),
                        args.isEmpty()
                            ? "a place where something is set"
                            : Words.oneOf(args.keySet())));
          }
          return new Exchange.Confirm(v.get(what), question.get(v), v.get(ratio), v.get(absolute));
        });
  }

  private static Form<Exchange> pause() {
    MapForm.Builder map = MapForm.of("a pause");
    Key<Duration> wait = map.required("wait", Forms.span(), "how long");
    return map.reads(v -> new Exchange.Pause(v.get(wait)));
  }
}
