// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.function.BiConsumer;
import java.util.stream.IntStream;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Kind;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What every kind of link must do, whatever the other end does. */
@Timeout(60)
abstract class LinkContract {
  static final LinkTimeouts QUICK =
      new LinkTimeouts(
          Duration.ofSeconds(2),
          Duration.ofMillis(600),
          Duration.ofMillis(60),
          new LinkTimeouts.Reopening(Duration.ofMillis(20), Duration.ofMillis(100), 20));

  private Link link;

  /** Starts the other end and gives a link to it. */
  abstract Link linkTo(BiConsumer<String, Peer.Mouth> manner, Framing framing) throws Exception;

  private Link open(BiConsumer<String, Peer.Mouth> manner, Framing framing) throws Exception {
    link = linkTo(manner, framing);
    return link;
  }

  private Link open(BiConsumer<String, Peer.Mouth> manner) throws Exception {
    return open(manner, Framing.LINES);
  }

  @AfterEach
  void closeLink() {
    if (link != null) {
      link.close();
    }
  }

  static InstrumentTrouble trouble(Kind kind, org.junit.jupiter.api.function.Executable what) {
    InstrumentTrouble trouble =
        assertThrows(InstrumentException.class, what).trouble().orElseThrow();
    assertEquals(kind, trouble.kind(), trouble::message);
    return trouble;
  }

  @ParameterizedTest
  @ValueSource(strings = {"\n", "\r", "\r\n"})
  void takesAReplyWhicheverWayItsLineEnds(String end) throws Exception {
    Link asked = open((line, mouth) -> mouth.say("<" + line + ">" + end));
    assertEquals("<READ?>", asked.ask("READ?"));
    assertEquals("<READ?>", asked.ask("READ?"));
  }

  @Test
  void takesAReplyThatOnlySilenceEnds() throws Exception {
    Link asked =
        open(
            (line, mouth) -> {
              mouth.say("+1.0");
              mouth.pause(10);
              mouth.say("00E-3");
            },
            new Framing(
                "\n", ReplyEnd.SILENCE, 100, Duration.ofMillis(150), java.util.Optional.empty()));
    assertEquals("+1.000E-3", asked.ask("READ?"));
    assertEquals("+1.000E-3", asked.ask("READ?"));
  }

  @Test
  void putsAReplyTogetherThatComesByteByByte() throws Exception {
    Link asked =
        open(
            (line, mouth) -> {
              for (char c : "+1.25E-3\n".toCharArray()) {
                mouth.say(String.valueOf(c));
                mouth.pause(2);
              }
            });
    assertEquals("+1.25E-3", asked.ask("READ?"));
  }

  @Test
  void silenceIsATimeOutThatNamesTheQuestion() throws Exception {
    Link asked = open((line, mouth) -> {});
    InstrumentTrouble trouble = trouble(Kind.NO_REPLY, () -> asked.ask("READ?"));
    assertEquals(
        asked.address()
            + ": no reply to \"READ?\" within 600 ms; expected a whole reply. Check cable, front"
            + " panel and line ending.",
        trouble.message());
    assertEquals("READ?", trouble.asked().command());
    assertEquals(Duration.ofMillis(600), trouble.asked().waited());
  }

  @Test
  void halfALineIsATimeOutThatShowsIt() throws Exception {
    Link asked = open((line, mouth) -> mouth.say("+1.0\u0000"));
    InstrumentTrouble trouble = trouble(Kind.NO_REPLY, () -> asked.ask("READ?"));
    assertEquals("only \"+1.0\\x00\" came as reply to \"READ?\" within 600 ms", trouble.found());
  }

  @ParameterizedTest
  @ValueSource(ints = {660, 800, 1100})
  void aReplyThatArrivesLateNeverAnswersTheNextQuestion(int milliseconds) throws Exception {
    Link asked =
        open(
            (line, mouth) -> {
              if (line.equals("FIRST?")) {
                mouth.pause(milliseconds);
              }
              mouth.say("answer to " + line + "\n");
            });
    lateOrItsOwn(asked);
    for (int i = 0; i < 5; i++) {
      assertEquals("answer to NEXT?", asked.ask("NEXT?"));
    }
  }

  /** On a busy machine what was to be late may be there when it is looked for. */
  private static void lateOrItsOwn(Link asked) {
    try {
      assertEquals("answer to FIRST?", asked.ask("FIRST?"));
    } catch (InstrumentException late) {
      assertEquals(Kind.NO_REPLY, late.trouble().orElseThrow().kind());
    }
  }

  /** The late reply comes behind the silence that is waited for: only the step tells it apart. */
  @Test
  void aReplyThatArrivesVeryLateIsPassedOverWhereThereIsAStep() throws Exception {
    Link asked =
        open(
            (line, mouth) -> {
              if (line.equals("FIRST?")) {
                mouth.pause(900);
              }
              mouth.say("answer to " + line + "\n");
            },
            Framing.LINES.inStepBy(
                new Framing.Step("WHO?", 1, "its name", "answer to WHO?"::equals)));
    trouble(Kind.NO_REPLY, () -> asked.ask("FIRST?"));
    for (int i = 0; i < 5; i++) {
      assertEquals("answer to NEXT?", asked.ask("NEXT?"));
    }
  }

  @Test
  void asksNothingMoreWhereTheStepIsNotAnswered() throws Exception {
    boolean[] deaf = {false};
    Link asked =
        open(
            (line, mouth) -> {
              deaf[0] |= line.equals("DIE");
              if (!deaf[0]) {
                mouth.say("answer to " + line + "\n");
              }
            },
            Framing.LINES.inStepBy(
                new Framing.Step("WHO?", 1, "its name", "answer to WHO?"::equals)));
    assertEquals("answer to A?", asked.ask("A?"));
    trouble(Kind.NO_REPLY, () -> asked.ask("DIE"));
    InstrumentTrouble trouble = trouble(Kind.OUT_OF_STEP, () -> asked.ask("A?"));
    assertEquals("cannot get in step: no answer to \"WHO?\"", trouble.found());
    deaf[0] = false;
    assertEquals("answer to A?", asked.ask("A?"));
  }

  /** Whoever waits for a name must hear which name came, not that none did. */
  @Test
  void anotherAnswerToTheStepIsToldWithTheOneThatWasWanted() throws Exception {
    String[] name = {"box 1"};
    Framing.Step step = new Framing.Step("WHO?", 1, "the name 'box 1'", "box 1"::equals);
    Link asked =
        open(
            (line, mouth) -> {
              name[0] = line.equals("DIE") ? "box 2" : name[0];
              if (!line.equals("DIE")) {
                mouth.say(name[0] + "\n");
              }
            },
            Framing.LINES.inStepBy(step));
    trouble(Kind.NO_REPLY, () -> asked.ask("DIE"));
    InstrumentTrouble trouble = trouble(Kind.OUT_OF_STEP, () -> asked.ask("A?"));
    assertEquals("cannot get in step: answered \"box 2\" to \"WHO?\"", trouble.found());
    assertEquals("the name 'box 1'", trouble.expected());
  }

  @Test
  void anAnswerToTheStepThatLacksItsEndIsToldFromNone() throws Exception {
    String[] end = {"\n"};
    Link asked =
        open(
            (line, mouth) -> {
              end[0] = line.equals("DIE") ? "" : end[0];
              mouth.say("answer to " + line + end[0]);
            },
            Framing.LINES.inStepBy(
                new Framing.Step("WHO?", 1, "its name", "answer to WHO?"::equals)));
    trouble(Kind.NO_REPLY, () -> asked.ask("DIE"));
    InstrumentTrouble trouble = trouble(Kind.OUT_OF_STEP, () -> asked.ask("A?"));
    assertEquals(
        "cannot get in step: \"answer to WHO?\" without an end came as answer to \"WHO?\"",
        trouble.found());
  }

  @Test
  void aStepMayBeAnsweredBySeveralLines() throws Exception {
    Link asked =
        open(
            (line, mouth) -> {
              if (line.equals("FIRST?")) {
                mouth.pause(900);
              }
              mouth.say(line.equals("WHO?") ? "box\nnumber 7\nready\n" : line + "\n");
            },
            Framing.LINES.inStepBy(
                new Framing.Step("WHO?", 3, "its name", "box\nnumber 7\nready"::equals)));
    trouble(Kind.NO_REPLY, () -> asked.ask("FIRST?"));
    for (int i = 0; i < 3; i++) {
      assertEquals("NEXT?", asked.ask("NEXT?"));
    }
  }

  @Test
  void twoRepliesGluedTogetherCastDoubtOnTheFirst() throws Exception {
    Link asked = open((line, mouth) -> mouth.say(line.equals("A?") ? "1\n2\n" : "3\n"));
    assertEquals("1", asked.ask("A?"));
    InstrumentTrouble trouble = trouble(Kind.OUT_OF_STEP, () -> asked.ask("B?"));
    assertEquals("\"2\\n\" came before \"B?\" was asked", trouble.found());
    assertEquals("3", asked.ask("B?"));
  }

  @Test
  void aLineWithoutEndIsRefusedAndDropped() throws Exception {
    Link asked =
        open(
            (line, mouth) -> {
              if (line.equals("DUMP?")) {
                mouth.say("x".repeat(60_000));
              }
              mouth.say("ok\n");
            },
            Framing.LINES.atMost(10_000));
    InstrumentTrouble trouble = trouble(Kind.WRONG_REPLY, () -> asked.ask("DUMP?"));
    assertTrue(
        trouble
            .found()
            .startsWith("the reply to \"DUMP?\" is longer than 10000 bytes without an end; it"),
        trouble.found());
    assertEquals("ok", asked.ask("A?"));
  }

  @Test
  void garbageIsHandedOnAsItCame() throws Exception {
    Link asked = open((line, mouth) -> mouth.say("\u0007\u00ff\u0001+1.0\n"));
    assertEquals("\u0007\u00ff\u0001+1.0", asked.ask("READ?"));
  }

  @Test
  void aBlockIsTakenWithItsLineEndsInside() throws Exception {
    Link asked =
        open((line, mouth) -> mouth.say(line.equals("DATA?") ? "#15a\nb\rc\n" : "#0abc\n"));
    assertArrayEquals(
        new byte[] {'a', '\n', 'b', '\r', 'c'}, asked.askBlock("DATA?", Duration.ofSeconds(1)));
    InstrumentTrouble trouble =
        trouble(Kind.WRONG_REPLY, () -> asked.askBlock("TRAC?", Duration.ofSeconds(1)));
    assertTrue(trouble.message().contains("indefinite length"), trouble.message());
  }

  @Test
  void aReplyOfSeveralLinesIsReadLineByLine() throws Exception {
    Link asked = open((line, mouth) -> mouth.say("one\ntwo\nthree\n"));
    asked.exclusively(
        () -> {
          assertEquals("one", asked.ask("ALL?"));
          assertEquals("two", asked.nextLine("ALL?", Duration.ofSeconds(1)));
          assertEquals("three", asked.nextLine("ALL?", Duration.ofSeconds(1)));
          return Boolean.TRUE;
        });
  }

  @Test
  void conversationsOfSeveralThreadsNeverMix() throws Exception {
    Link first = open((line, mouth) -> mouth.say(line + "!\n"));
    Link second = first.speaking(Framing.LINES.ending(ReplyEnd.LF), QUICK);
    ExecutorService threads = Executors.newFixedThreadPool(4);
    List<Future<Boolean>> results =
        IntStream.range(0, 4)
            .mapToObj(i -> threads.submit(() -> keepsAsking(i % 2 == 0 ? first : second, i)))
            .toList();
    for (Future<Boolean> result : notEmpty(results)) {
      assertTrue(result.get(30, TimeUnit.SECONDS));
    }
    threads.shutdownNow();
  }

  private static boolean keepsAsking(Link link, int who) {
    boolean right = true;
    for (int i = 0; i < 100; i++) {
      String a = who + "/" + i + "/a?";
      String b = who + "/" + i + "/b?";
      right &= link.exclusively(() -> link.ask(a).equals(a + "!") && link.ask(b).equals(b + "!"));
    }
    return right;
  }

  @Test
  void aThreadThatHoldsTheLinkIsBrokenOffForWhatMustBeSaid() throws Exception {
    Link asked =
        open(
            (line, mouth) -> {
              if (!line.equals("SLOW?")) {
                mouth.say("ok\n");
              }
            });
    assertEquals("ok", asked.ask("A?"));
    ExecutorService thread = Executors.newSingleThreadExecutor();
    Future<InstrumentTrouble> broken =
        thread.submit(() -> trouble(Kind.BROKEN, () -> asked.ask("SLOW?", Duration.ofSeconds(30))));
    while (!heard().contains("SLOW?")) {
      Thread.onSpinWait();
    }
    assertEquals(
        "ok",
        asked.takingOver(Duration.ofMillis(50), Duration.ofSeconds(5), () -> asked.ask("SAFE?")));
    assertFalse(broken.get(10, TimeUnit.SECONDS).message().isBlank());
    thread.shutdownNow();
  }

  @Test
  void whoeverWaitsForAReplyCanLookAroundMeanwhile() throws Exception {
    Link asked =
        open(
            (line, mouth) -> {
              mouth.pause(line.equals("SLOW?") ? 700 : 0);
              mouth.say(line + " ok\n");
            });
    List<InstrumentTrouble> looks = new ArrayList<>();
    asked.whileWaiting(() -> looks.add(trouble(Kind.BUSY, () -> asked.ask("B?"))));
    assertEquals("SLOW? ok", asked.ask("SLOW?", Duration.ofSeconds(30)));
    assertFalse(looks.isEmpty());
    assertEquals("A? ok", asked.ask("A?"));
    assertEquals(List.of("SLOW?", "A?"), heard());
  }

  /** What the other end heard so far. */
  abstract List<String> heard();

  @Test
  void aCommandWithAnEndOfLineInsideIsNeverSent() throws Exception {
    Link asked = open((line, mouth) -> mouth.say("ok\n"));
    assertThrows(IllegalArgumentException.class, () -> asked.send("A\nOUTP ON"));
    assertThrows(IllegalArgumentException.class, () -> asked.ask("\u03a9?"));
    assertEquals("ok", asked.ask("A?"));
    assertEquals(List.of("A?"), heard());
  }

  @Test
  void aClosedLinkSaysSo() throws Exception {
    Link asked = open((line, mouth) -> mouth.say("ok\n"));
    assertEquals("ok", asked.ask("A?"));
    asked.close();
    assertEquals(
        asked.address() + ": the link was closed.",
        trouble(Kind.STOPPED, () -> asked.ask("A?")).message());
  }
}
