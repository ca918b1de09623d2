// What is known of the drawing: the whole answer, which takes longer, and over it the weights of a later stroke.

import { withRows } from "./figures";
import type { Answer, Weights } from "./told";

export class Newest {
  answer: Answer | null = null;
  private weights: Weights | null = null;
  private version = -1; // of the stroke that the figures are of

  /** The workbench is there anew and counts from the beginning. */
  opened(): void {
    this.weights = null;
    this.version = -1;
  }

  /** Takes weights; false where there is no answer they belong to, or a newer one. */
  hearWeights(weights: Weights): boolean {
    const { answer } = this;
    if (!answer?.places || !answer.scene || weights.shop !== answer.shop || weights.version < this.version) return false;
    this.weights = weights;
    this.version = weights.version;
    this.answer = renewed(answer, weights);
    return true;
  }

  /** Takes an answer; weights told already of a later stroke stay. */
  hearAnswer(answer: Answer): Answer {
    const { weights } = this;
    const isLater = weights !== null && weights.shop === answer.shop && weights.version > answer.version;
    this.version = isLater ? weights.version : answer.version;
    return (this.answer = isLater ? renewed(answer, weights) : answer);
  }
}

function renewed(answer: Answer, weights: Weights): Answer {
  if (!answer.places || !answer.scene) return answer;
  return { ...answer, places: withRows(answer.places, weights), scene: { ...answer.scene, ...weights.scene } };
}
