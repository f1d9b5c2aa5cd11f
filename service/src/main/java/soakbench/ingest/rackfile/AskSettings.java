package soakbench.ingest.rackfile;

import java.nio.charset.StandardCharsets;
import java.util.List;

/**
 * What is sent to a tracker that talks only when it's asked. Nothing unless set.
 *
 * @param afterOpen texts sent, in this order, each time the port or connection was opened
 * @param afterBoot texts sent after a reboot was seen in the tracker's own counters
 * @param everyS after so many seconds the texts of {@code afterOpen} are sent again; 0 for never
 * @param newline what ends each text
 */
public record AskSettings(
    List<String> afterOpen, List<String> afterBoot, int everyS, Newline newline) {

  /** What ends a text. */
  public enum Newline {
    LF("\n"),
    CRLF("\r\n"),
    CR("\r"),
    NONE("");

    private final String end;

    Newline(String end) {
      this.end = end;
    }
  }

  /** Nothing is sent. */
  public static final AskSettings NONE = new AskSettings(List.of(), List.of(), 0, Newline.LF);

  public AskSettings {
    afterOpen = List.copyOf(afterOpen);
    afterBoot = List.copyOf(afterBoot);
  }

  public boolean isNothing() {
    return afterOpen.isEmpty() && afterBoot.isEmpty();
  }

  /** The text as it's sent, with its end. */
  public byte[] bytes(String text) {
    return (text + newline.end).getBytes(StandardCharsets.UTF_8);
  }
}
