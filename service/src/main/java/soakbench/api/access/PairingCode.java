package soakbench.api.access;

import java.net.URI;
import java.time.Instant;
import java.util.List;

/**
 * A code that lets in one phone or browser.
 *
 * @param code to be typed
 * @param expires when it ends if nobody used it
 * @param pages where it is taken: addresses with the code in them, to be scanned
 */
public record PairingCode(String code, Instant expires, List<URI> pages) {
  public PairingCode {
    pages = List.copyOf(pages);
  }
}
