package soakbench.ingest.source;

/** What carries a source's lines. */
public enum SourceKind {
  SERIAL,
  UDP,
  TCP
}
