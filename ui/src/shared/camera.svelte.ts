/** What a web view's own camera does: starting, showing, or why it can't. */
export type CameraState = 'off' | 'starting' | 'live' | CameraTrouble;
export type CameraTrouble = 'denied' | 'missing' | 'busy';

/** The camera at the phone's back, as large as it likes to give its frames up to this. */
const WANTED: MediaStreamConstraints = {
  audio: false,
  video: { facingMode: { ideal: 'environment' }, width: { ideal: 2560 }, height: { ideal: 1920 } },
};
const QUALITY = 0.92;

/** What was thrown when a camera was asked for (Media Capture and Streams, W3C), in what it means to whoever holds the phone. */
export function troubleOf(thrown: unknown): CameraTrouble {
  // Not everything that is thrown here is an Error: the specification has exceptions of its own.
  const name = typeof thrown === 'object' && thrown !== null && 'name' in thrown ? thrown.name : '';
  if (name === 'NotAllowedError' || name === 'SecurityError') return 'denied';
  return name === 'NotReadableError' || name === 'AbortError' ? 'busy' : 'missing';
}

/** The phone's camera inside the app, for as long as one screen shows it. */
export class Camera {
  now = $state<CameraState>('off');
  stream = $state.raw<MediaStream | null>(null);
  /** Whether the phone has a light, and whether it is on. */
  hasLight = $state(false);
  light = $state(false);
  /** Asked for last: an answer to an earlier question is put away. */
  #asked = 0;

  async start(): Promise<void> {
    this.stop();
    const mine = (this.#asked += 1);
    this.now = 'starting';
    try {
      // A web view without a camera, or an address that isn't trusted, has no such thing.
      const devices = navigator.mediaDevices as MediaDevices | undefined;
      if (!devices) throw new Error('no camera in this web view');
      const stream = await devices.getUserMedia(WANTED);
      if (mine !== this.#asked) return release(stream);
      this.#show(stream);
    } catch (thrown) {
      if (mine === this.#asked) this.now = troubleOf(thrown);
    }
  }

  stop(): void {
    this.#asked += 1;
    if (this.stream) release(this.stream);
    this.stream = null;
    this.light = false;
    this.now = 'off';
  }

  async flipLight(): Promise<void> {
    const track = this.stream?.getVideoTracks()[0];
    const torch = { torch: !this.light } as MediaTrackConstraintSet;
    try {
      await track?.applyConstraints({ advanced: [torch] });
      this.light = !this.light;
    } catch {
      // Some phones say that they have one and then can't: the button goes.
      this.hasLight = false;
    }
  }

  #show(stream: MediaStream): void {
    const track = stream.getVideoTracks()[0];
    const can = track?.getCapabilities?.() as { torch?: boolean } | undefined;
    this.hasLight = can?.torch === true;
    // The system takes the camera away while the app is behind another: it is asked for again when it comes back.
    track?.addEventListener('ended', () => {
      if (this.stream === stream) this.now = 'busy';
    });
    this.stream = stream;
    this.now = 'live';
  }
}

/** The frame that is shown now, as JPEG; made smaller where its longer side has more than `most` pixels. */
export async function frameOf(video: HTMLVideoElement, most = Infinity): Promise<Uint8Array> {
  const { videoWidth, videoHeight } = video;
  const scale = Math.min(1, most / Math.max(videoWidth, videoHeight));
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(videoWidth * scale);
  canvas.height = Math.round(videoHeight * scale);
  canvas.getContext('2d')?.drawImage(video, 0, 0, canvas.width, canvas.height);
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/jpeg', QUALITY));
  if (!blob) throw new Error('the camera shows no picture yet');
  return new Uint8Array(await blob.arrayBuffer());
}

function release(stream: MediaStream): void {
  for (const track of stream.getTracks()) track.stop();
}
