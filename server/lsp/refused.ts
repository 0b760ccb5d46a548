import { LSPErrorCodes, ResponseError } from 'vscode-languageserver';

/** What can't be done, with the sentence that says why: the editor shows it where it was asked for. */
export const refused = (sentence: string) => new ResponseError(LSPErrorCodes.RequestFailed, sentence);
