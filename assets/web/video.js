// The motion as a video, by the encoder that the browser has.
const KINDS = [["video/mp4", "mp4"], ["video/webm", "webm"]];
const WIDTH = 1280;
const FRAME_MS = 62.5;
// Once there and back, and again: a player that stops at the end has then shown it.
const SWINGS = 2;

const found = () => KINDS.find(([type]) => window.MediaRecorder?.isTypeSupported(type));

export const canRecord = () => found() !== undefined;

async function image(svg) {
  const address = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
  try {
    const picture = new Image();
    picture.src = address;
    await picture.decode();
    return picture;
  } finally {
    URL.revokeObjectURL(address);
  }
}

// Records frames, SVG of one size; gives the file and the ending of its name.
export async function video(frames) {
  const [type, ending] = found();
  const pictures = await Promise.all(frames.map(image));
  const [{ naturalWidth, naturalHeight }] = pictures;
  const canvas = document.createElement("canvas");
  // Encoders want even numbers of pixels.
  canvas.width = WIDTH;
  canvas.height = 2 * Math.round((WIDTH * naturalHeight) / naturalWidth / 2);
  const ink = canvas.getContext("2d");
  ink.drawImage(pictures[0], 0, 0, canvas.width, canvas.height);
  const stream = canvas.captureStream(0);
  const recorder = new MediaRecorder(stream, { mimeType: type, videoBitsPerSecond: 4_000_000 });
  const parts = [];
  recorder.addEventListener("dataavailable", ({ data }) => parts.push(data));
  const ended = new Promise((resolve, reject) => {
    recorder.addEventListener("stop", resolve);
    recorder.addEventListener("error", ({ error }) => reject(error));
  });
  recorder.start();
  for (let index = 0; index < SWINGS * pictures.length; index += 1) {
    ink.drawImage(pictures[index % pictures.length], 0, 0, canvas.width, canvas.height);
    stream.getTracks()[0].requestFrame();
    await new Promise((resolve) => setTimeout(resolve, FRAME_MS));
  }
  recorder.stop();
  await ended;
  return { ending, blob: new Blob(parts, { type }) };
}
