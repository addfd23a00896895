// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.ServerSocket;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.function.BiConsumer;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.fault.InterlockException;
import millrace.time.TimeSource;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

class TcpLinkIT extends LinkContract {
  private Peer peer;

  @Override
  Link linkTo(BiConsumer<String, Peer.Mouth> manner, Framing framing) throws IOException {
    peer = Peer.listening(manner);
    return new Link(peer.address(), framing, QUICK, LinkRecorder.NONE);
  }

  @Override
  List<String> heard() {
    return peer.heard();
  }

  @AfterEach
  void closePeer() throws IOException {
    if (peer != null) {
      peer.close();
    }
  }

  @Test
  void aConnectionThatIsClosedIsOpenedAnew() throws IOException {
    Link link =
        linkTo(
            (line, mouth) -> {
              if (line.equals("BYE")) {
                mouth.hangUp();
              } else {
                mouth.say("ok\n");
              }
            },
            Framing.LINES);
    assertEquals("ok", link.ask("A?"));
    assertEquals(1, link.epoch());
    InstrumentTrouble trouble = trouble(Kind.BROKEN, () -> link.ask("BYE"));
    assertEquals(
        link.address()
            + ": the link broke at \"BYE\": the instrument closed the connection. Check the cable;"
            + " the link is opened again at the next question.",
        trouble.message());
    assertEquals("ok", link.ask("A?"));
    assertEquals(2, link.epoch());
  }

  @Test
  void aConnectionThatIsResetIsOpenedAnew() throws IOException {
    Link link = linkTo((line, mouth) -> mouth.say("ok\n"), Framing.LINES);
    assertEquals("ok", link.ask("A?"));
    peer.reset();
    trouble(Kind.BROKEN, () -> link.ask("A?"));
    assertEquals("ok", link.ask("A?"));
  }

  @Test
  void aTimeOutOpensANewConnectionSoThatOldRepliesDieWithTheOldOne() throws IOException {
    Link link = linkTo((line, mouth) -> {}, Framing.LINES);
    trouble(Kind.NO_REPLY, () -> link.ask("A?"));
    trouble(Kind.NO_REPLY, () -> link.ask("B?"));
    assertEquals(2, peer.connections());
  }

  @Test
  void aRefusedConnectionSaysWhereAndWhatToDo() throws IOException {
    LinkAddress.Tcp nobody;
    try (ServerSocket socket = new ServerSocket(0)) {
      nobody = new LinkAddress.Tcp("127.0.0.1", socket.getLocalPort());
    }
    Link link = new Link(nobody, Framing.LINES, QUICK, LinkRecorder.NONE);
    assertEquals(
        nobody
            + ": the connection was refused; expected the instrument to listen there. Check the"
            + " port, and that no other program holds the instrument.",
        trouble(Kind.UNREACHABLE, () -> link.ask("A?")).message());
  }

  @Test
  void aHostThatDoesNotExistIsNamed() {
    Link link =
        new Link(
            new LinkAddress.Tcp("no-such-host.invalid", 1),
            Framing.LINES,
            QUICK,
            LinkRecorder.NONE);
    assertEquals(
        "tcp no-such-host.invalid:1: no host has this name; expected a name or address that this"
            + " machine knows. Check the bench file.",
        trouble(Kind.UNREACHABLE, () -> link.ask("A?")).message());
  }

  @Test
  void pausesBetweenTriesGrowAndEnd() throws IOException {
    peer = Peer.listening((line, mouth) -> mouth.say("ok\n"));
    List<Duration> pauses = new ArrayList<>();
    LinkTimeouts timing =
        new LinkTimeouts(
            Duration.ofSeconds(1),
            Duration.ofMillis(300),
            Duration.ofMillis(50),
            new LinkTimeouts.Reopening(Duration.ofMillis(200), Duration.ofSeconds(1), 6));
    SharedLinkChannel channel =
        new SharedLinkChannel(
            peer.address(), Dialers.of(peer.address()), LinkRecorder.NONE, noting(pauses));
    Link link = new Link(channel, Framing.LINES, timing);
    assertEquals("ok", link.ask("A?"));
    peer.close();
    trouble(Kind.BROKEN, () -> link.ask("A?"));
    InstrumentTrouble trouble = trouble(Kind.UNREACHABLE, () -> link.ask("A?"));
    Duration all = pauses.stream().reduce(Duration.ZERO, Duration::plus);
    assertEquals(Duration.ofMillis(200 + 400 + 800 + 1000 + 1000), all);
    assertTrue(
        pauses.stream().allMatch(p -> p.compareTo(BackgroundDialling.SLICE) <= 0),
        pauses::toString);
    assertTrue(trouble.message().contains("refused, attempt 6 of 6;"), trouble.message());
  }

  @Test
  void whoeverWaitsForALinkToReopenCanLookAroundMeanwhileAndBreakOff() throws IOException {
    Link link = linkTo((line, mouth) -> mouth.say("ok\n"), Framing.LINES);
    assertEquals("ok", link.ask("A?"));
    peer.close();
    trouble(Kind.BROKEN, () -> link.ask("A?"));
    List<String> looks = new ArrayList<>();
    link.whileWaiting(
        () -> {
          looks.add("look");
          if (looks.size() == 2) {
            throw new InterlockException("the chamber is too hot");
          }
        });
    assertThrows(InterlockException.class, () -> link.ask("A?"));
    assertEquals(2, looks.size());
  }

  @Test
  void whoeverLooksAroundCanEndTheWaitForAReply() throws IOException {
    Link link =
        linkTo(
            (line, mouth) -> {
              if (!line.equals("SLOW?")) {
                mouth.say(line + " ok\n");
              }
            },
            Framing.LINES);
    link.whileWaiting(
        () -> {
          throw new InterlockException("the chamber is too hot");
        });
    assertThrows(InterlockException.class, () -> link.ask("SLOW?", Duration.ofMinutes(5)));
    assertEquals("A? ok", link.ask("A?"));
    assertEquals(2, peer.connections());
  }

  private static TimeSource noting(List<Duration> pauses) {
    return new TimeSource() {
      @Override
      public Instant now() {
        return Instant.EPOCH;
      }

      @Override
      public Duration elapsed() {
        return Duration.ZERO;
      }

      @Override
      public void sleep(Duration span) {
        pauses.add(span);
      }
    };
  }

  @Test
  void noEndlessTalkKeepsTheLinkFromGivingUp() throws IOException {
    Link link =
        linkTo(
            (line, mouth) -> {
              for (int i = 0; i < 100 && !line.equals("A?"); i++) {
                mouth.say("x\n".repeat(100_000));
              }
              mouth.say("ok\n");
            },
            Framing.LINES);
    assertEquals("x", link.ask("FLOOD?"));
    trouble(Kind.OUT_OF_STEP, () -> link.ask("A?"));
    assertEquals("ok", link.ask("A?"));
  }
}
