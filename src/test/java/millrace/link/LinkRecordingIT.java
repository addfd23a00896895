// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.StringWriter;
import java.time.Duration;
import java.time.Instant;
import millrace.fault.BadInputException;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.time.VirtualClock;
import org.junit.jupiter.api.Test;

/** A conversation is recorded over a real socket and answers in place of the instrument. */
class LinkRecordingIT {
  private static final LinkTimeouts QUICK = LinkContract.QUICK;

  private static String recorded(LinkAddress[] address) throws Exception {
    int[] count = {0};
    StringWriter written = new StringWriter();
    try (Peer peer =
        Peer.listening(
            (line, mouth) -> {
              if (!line.startsWith("SET")) {
                mouth.say(line.equals("MUTE?") ? "" : line + count[0]++ + "\u00b5\n");
              }
            })) {
      address[0] = peer.address();
      LinkRecorder recorder =
          LinkRecording.recorder(written, new VirtualClock(Instant.parse("2026-11-25T21:07:03Z")));
      try (Link link = new Link(peer.address(), Framing.LINES, QUICK, recorder)) {
        assertEquals("A?0\u00b5", link.ask("A?"));
        link.send("SET 1");
        assertEquals("A?1\u00b5", link.ask("A?"));
        LinkContract.trouble(Kind.NO_REPLY, () -> link.ask("MUTE?", Duration.ofMillis(50)));
        assertEquals("B?2\u00b5", link.ask("B?"));
      }
    }
    return written.toString();
  }

  @Test
  void writesWhatWasSaidWithItsTime() throws Exception {
    LinkAddress[] address = new LinkAddress[1];
    String text = recorded(address);
    assertTrue(
        text.startsWith(
            "millrace recording 1\n2026-11-25T21:07:03Z open "
                + address[0]
                + "\n2026-11-25T21:07:03Z > A?\\n\n2026-11-25T21:07:03Z < A?0\\xb5\\n\n"),
        text);
  }

  @Test
  void answersStrictlyAsItWasSaid() throws Exception {
    String text = recorded(new LinkAddress[1]);
    Link link = replay(text, LinkReplay.Manner.STRICT);
    assertEquals("A?0\u00b5", link.ask("A?"));
    link.send("SET 1");
    assertEquals("A?1\u00b5", link.ask("A?"));
    LinkContract.trouble(Kind.NO_REPLY, () -> link.ask("MUTE?", Duration.ofMinutes(5)));
    assertEquals("B?2\u00b5", link.ask("B?"));
  }

  @Test
  void refusesStrictlyWhatWasNotSaid() throws Exception {
    Link link = replay(recorded(new LinkAddress[1]), LinkReplay.Manner.STRICT);
    assertEquals("A?0\u00b5", link.ask("A?"));
    assertTrue(
        LinkContract.trouble(Kind.BROKEN, () -> link.send("SET 2"))
            .found()
            .contains("goes on with \"SET 1\\n\" instead of \"SET 2\\n\""));
  }

  @Test
  void answersByQuestionInAnyOrder() throws Exception {
    Link link = replay(recorded(new LinkAddress[1]), LinkReplay.Manner.BY_QUESTION);
    assertEquals("B?2\u00b5", link.ask("B?"));
    assertEquals("A?0\u00b5", link.ask("A?"));
    assertEquals("A?1\u00b5", link.ask("A?"));
    assertEquals("A?1\u00b5", link.ask("A?"));
    LinkContract.trouble(Kind.BROKEN, () -> link.ask("C?"));
  }

  private static Link replay(String text, LinkReplay.Manner manner) {
    return LinkReplay.of("talk.txt", text, manner)
        .link(LinkAddress.parse("tcp bench:1"), Framing.LINES, QUICK);
  }

  @Test
  void refusesWhatIsNoRecordingWithEveryFault() {
    assertEquals(
        """
        talk.txt:1:1: this is no recording; expected 'millrace recording 1' as first line.
        talk.txt:2:1: "hello" is no event; expected a time, a word and bytes.
        talk.txt:3:1: the escape \\q is not known here; expected \\n, \\r, \\\\ or \\xHH.\
        """,
        assertThrows(
                BadInputException.class,
                () ->
                    LinkReplay.of(
                        "talk.txt",
                        "notes\nhello\n2026-11-25T21:07:03Z > \\q\n",
                        LinkReplay.Manner.STRICT))
            .getMessage());
  }
}
