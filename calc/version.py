"""The version of Brinebook: of what computes, whatever records and pages it computes for."""

VERSION = "0.1.0"
