declare module 'wink-naive-bayes-text-classifier' {
  type Classifier = {
    definePrepTasks(tasks: readonly ((text: string) => string[])[]): number;
    defineConfig(config: { considerOnlyPresence: boolean; smoothingFactor: number }): boolean;
    learn(text: string, label: string): boolean;
    consolidate(): boolean;
    predict(text: string): string;
  };
  export default function naiveBayes(): Classifier;
}
