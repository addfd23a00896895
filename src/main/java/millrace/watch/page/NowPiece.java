// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.assessment.Assessment;
import millrace.evidence.Conformity;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.Result;
import millrace.evidence.RunOrigin;
import millrace.logbook.RunState;
import millrace.logbook.StepEntry;
import millrace.night.StoredRunPlan;
import millrace.quantity.NumberText;
import millrace.quantity.TimeSpanSeconds;
import millrace.report.markup.Markup;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.OverallVerdict;

/** The main answer: whether the run needs a person, when it ends, what is known so far. */
final class NowPiece {
  /** A longer time without an entry is reported: a soak makes an entry every minute. */
  private static final Duration SILENT = Duration.ofMinutes(20);

  private static final int MOST_NAMED = 5;

  private final RunSnapshot look;
  private final Optional<Assessment> assessment;

  NowPiece(RunSnapshot look, Optional<Assessment> assessment) {
    this.look = look;
    this.assessment = assessment;
  }

  void write(Markup out) {
    out.line().open("div", "class", "verdict " + kind());
    out.element("h2", answer(), "id", "answer");
    out.element("p", why(), "class", "why");
    List<String> more = new ArrayList<>();
    todo().ifPresent(more::add);
    if (look.writer().goesOn()) {
      outcome().ifPresent(o -> more.add("So far: " + o));
      underWay().ifPresent(step -> more.add("Now: " + step));
    }
    fails().ifPresent(more::add);
    serious().ifPresent(more::add);
    more.forEach(m -> out.element("p", m));
    out.close();
  }

  private String kind() {
    return look.writer().goesOn() && !needsSomebody() ? "calm" : ended() ? "over" : "needed";
  }

  private boolean ended() {
    return look.run().state() == RunState.COMPLETE;
  }

  private String answer() {
    if (look.writer().goesOn()) {
      return AskedPiece.paused(look)
          ? "Paused: no further point is taken"
          : asks() ? "It waits for an answer at its terminal" : silent() ? silence() : "Running";
    }
    RunState state = look.run().state();
    if (state == RunState.UNFINISHED) {
      return interrupted();
    }
    String verdict = verdict();
    boolean told = assessment.isPresent();
    return switch (state) {
      case COMPLETE -> "Outcome: " + verdict;
      case STOPPED ->
          (brokenInterlock() ? "Stopped by an interlock" : "Stopped early")
              + (told ? ": " + verdict.toLowerCase(Locale.ROOT) + ", as far as it came" : "");
      default ->
          "Broken off by a fault"
              + (told ? ": " + verdict.toLowerCase(Locale.ROOT) + ", as far as it came" : "");
    };
  }

  private boolean brokenInterlock() {
    return look.happened().incidents().stream()
        .map(Incident::kind)
        .filter(k -> k == IncidentKind.BREACH || k == IncidentKind.RESUMED)
        .reduce((a, b) -> b)
        .filter(k -> k == IncidentKind.BREACH)
        .isPresent();
  }

  /** The state of the bench comes first: perhaps nobody is there. */
  private String interrupted() {
    String ending = look.writer().ending().orElse("");
    return ending.contains("NOBODY")
        ? "Interrupted: that the bench is safe is not confirmed"
        : ending.contains("made safe")
            ? "Interrupted: the bench was made safe"
            : "Interrupted: no process writes this run";
  }

  /** The last judgement, while a new one is computed. */
  private String verdict() {
    List<Conformity> judged = look.writer().judged();
    String kept =
        judged.isEmpty()
            ? "being computed"
            : sentence(OverallVerdict.word(judged)).replace(".", "");
    return assessment.map(a -> OverallVerdict.of(a.results()).word()).orElse(kept);
  }

  private String silence() {
    return "Nothing came for " + TimeSpanSeconds.inWords(sinceLast());
  }

  private Duration sinceLast() {
    Duration last =
        look.newest().isEmpty()
            ? Duration.ZERO
            : look.newest().get(look.newest().size() - 1).elapsed();
    Duration step =
        look.steps().isEmpty()
            ? Duration.ZERO
            : look.steps().get(look.steps().size() - 1).started();
    Duration newest = last.compareTo(step) > 0 ? last : step;
    return look.clock().elapsed().minus(newest);
  }

  private boolean silent() {
    return sinceLast().compareTo(SILENT) > 0;
  }

  private boolean needsSomebody() {
    return AskedPiece.paused(look) || asks() || silent();
  }

  /** A step with a question is open until the answer. */
  private boolean asks() {
    return openStep().filter(s -> s.what().startsWith("ask")).isPresent();
  }

  private Optional<StepEntry> openStep() {
    List<StepEntry> steps = look.steps();
    return steps.isEmpty()
        ? Optional.empty()
        : Optional.of(steps.get(steps.size() - 1)).filter(s -> s.end().isEmpty());
  }

  private String why() {
    String progress = progress();
    if (!look.writer().goesOn()) {
      String remark = look.run().remark();
      String verdict = outcome().orElse("");
      String cause = remark.isBlank() ? "" : sentence(remark);
      return String.join(
          " ",
          (ended() ? List.of(verdict, cause, progress) : List.of(cause, verdict, progress))
              .stream().filter(w -> !w.isBlank()).toList());
    }
    String end =
        look.left()
            .filter(left -> !left.isZero())
            .map(
                left ->
                    " About %s left; it ends at about %s."
                        .formatted(
                            TimeSpanSeconds.inWords(left),
                            look.local(look.clock().now().plus(left))))
            .orElse("");
    String nothing = needsSomebody() ? "" : "Nothing asks for a person. ";
    return nothing + progress + end;
  }

  private static String sentence(String words) {
    String capital = Character.toUpperCase(words.charAt(0)) + words.substring(1);
    return capital.endsWith(".") ? capital : capital + ".";
  }

  private String progress() {
    return look.plan()
        .map(this::progress)
        .orElseGet(() -> NumberText.counted(look.points().size(), "point") + ".");
  }

  private String progress(StoredRunPlan plan) {
    int all = plan.plan().points().size();
    long done = plan.plan().points().stream().filter(p -> look.done().contains(p.key())).count();
    long left = all - done - plan.toGo(look.done()).size();
    return "%s of %s points done%s."
        .formatted(done, all, left == 0 ? "" : ", " + left + " left out");
  }

  private Optional<String> todo() {
    RunState state = look.run().state();
    if (look.writer().goesOn() || state == RunState.COMPLETE) {
      return Optional.empty();
    }
    Optional<String> ending = look.writer().ending().map(e -> "It " + e + ".");
    if (look.run().start().origin() == RunOrigin.IMPORTED) {
      return ending;
    }
    String goOn =
        "What to do: find the cause; then 'millrace run --resume %s' with this logbook goes on."
            .formatted(look.run().id());
    boolean said = look.run().remark().contains("--resume");
    return Optional.of(ending.map(e -> e + " " + goOn).orElse(goOn)).filter(g -> !said);
  }

  /** Such as {@code 18 limits decided, all met; 2 open}. */
  private Optional<String> outcome() {
    if (assessment.isEmpty()) {
      return Optional.empty();
    }
    List<Conformity> all =
        assessment.get().results().stream()
            .flatMap(r -> r.judgement().stream())
            .map(j -> j.conformity())
            .toList();
    if (!look.writer().goesOn() || all.isEmpty()) {
      return Optional.of(OverallVerdict.of(assessment.get()).sentence());
    }
    long open = all.stream().filter(c -> c == Conformity.NOT_EVALUATED).count();
    long met = all.stream().filter(c -> c == Conformity.PASS).count();
    long decided = all.size() - open;
    return Optional.of(
        "%s decided, %s open%s; what is decided may still change."
            .formatted(
                NumberText.counted(decided, "limit"),
                open,
                decided == 0
                    ? ""
                    : met == decided ? ", all decided are met" : ", " + met + " met"));
  }

  /** Which results miss their limits, the first by name. */
  private Optional<String> fails() {
    List<Result> failed =
        assessment.stream()
            .flatMap(a -> a.results().stream())
            .filter(r -> r.judgement().filter(j -> j.conformity() == Conformity.FAIL).isPresent())
            .toList();
    String named =
        failed.stream()
            .limit(MOST_NAMED)
            .map(r -> r.quantity().inWords() + r.range().map(range -> " of " + range).orElse(""))
            .distinct()
            .collect(Collectors.joining(", "));
    int more = failed.size() - MOST_NAMED;
    return failed.isEmpty()
        ? Optional.empty()
        : Optional.of(
            "Beyond its limit: %s%s.".formatted(named, more > 0 ? ", and " + more + " more" : ""));
  }

  private Optional<String> underWay() {
    return SoakPiece.inOneLine(look)
        .or(() -> openStep().map(s -> PrintedUnitSymbols.of(s.key()) + ": " + s.what()));
  }

  private Optional<String> serious() {
    List<Incident> all =
        look.happened().incidents().stream().filter(IncidentsPiece::serious).toList();
    boolean breach = all.stream().anyMatch(i -> i.kind() == IncidentKind.BREACH);
    if (all.isEmpty()) {
      return Optional.empty();
    }
    Incident last = all.get(all.size() - 1);
    String counted =
        NumberText.counted(all.size(), "serious incident")
            + (breach ? ", an interlock among them" : "");
    String where = look.writer().goesOn() || ended() ? last.text() : state();
    return Optional.of(
        "%s, the last at %s: %s"
            .formatted(counted, look.local(last.at()), PrintedUnitSymbols.of(where)));
  }

  /** What the logbook says of the bench when a run has ended early; its cause stands above. */
  private String state() {
    return look.happened().incidents().stream()
        .filter(i -> i.kind() == IncidentKind.SAFE_STATE)
        .reduce((a, b) -> b)
        .map(i -> "then " + i.text() + ".")
        .orElse("that the bench is safe is not in the logbook: look at it.");
  }
}
