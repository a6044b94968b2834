/** SHA-256 (hex) of a file's bytes; by the private key (HMAC) where a secret may be in it. */
export interface Fingerprint {
  readonly keyed: boolean;
  readonly hash: string;
}
